import type { SignalName, SoundName } from '../../core/procedure/cue-table.ts';
import type { CueId } from '../../core/procedure/cues.ts';
import type { Language } from '../../core/settings/language.ts';

/** A file of `assets/sounds`, without its ending. */
export type SoundFile = SoundName | SignalName | `spoken/${Language}/${CueId | SignalName}`;

/** What is spoken of a cue or a signal. */
export const wordsOf = (what: CueId | SignalName, language: Language): SoundFile => `spoken/${language}/${what}`;

/** What cues are sounded with. Instants are on the page's clock: when a sound is heard, not when it is asked for. */
export interface Speaker {
  /** Compares the clocks anew. Called before anything below. */
  look(): void;
  /** Whether what is armed now can come out. */
  able(): boolean;
  /** How long before it is heard a sound has to be asked for, ms. */
  leadMs(): number;
  /** 0 for a file that is not there, or not yet. */
  lengthMs(file: SoundFile): number;
  /** Places files on the audio clock, one after the other without a pause. Begins at once where that is past. */
  arm(files: readonly SoundFile[], startMs: number): Armed;
}

/** A sound on the audio clock, ahead of its time or under way. */
export interface Armed {
  /** When it begins, as the audio clock stands now. */
  beginsMs(): number;
  /** Takes it off the clock; what has begun fades out. */
  stop(): void;
}
