import type { SessionView } from '../protocol/view.ts';
import { instantsFrom, SAME_INSTANT_MS } from './cue-occurrences.ts';
import { CUE_TABLE, type CueId, type SoundName } from './cue-table.ts';

/**
 * One sound at one instant of the station's continuous clock. A repeat is a cue of its own.
 *
 * Whoever sounds cues keeps to the list of the latest snapshot: a cue that is no longer in it is not sounded, but for
 * one that sounds already, which ends by itself. What became of each is said to the station in a `cue` request with
 * its `id` and `dueAtMs`; once that is entered, the cue and those of its kind before it are in the list no more.
 */
export interface Cue {
  /** The same as long as the instant stays where it is, and told from every other cue of every session. */
  readonly key: string;
  readonly id: CueId;
  readonly sessionId: string;
  readonly sound: SoundName;
  readonly dueAtMs: number;
  /** 0 for the first, then 1, 2, … for the repeats. */
  readonly repeat: number;
  /** What it tells, for the eye beside the ear. The spoken words are in `assets/sounds/spoken/<language>/<id>.wav`. */
  readonly words: string;
}

/** Every instant at which a session has something to sound, as things stand, earliest first. */
export function cuesOf({ sessionId, cues }: Pick<SessionView, 'sessionId' | 'cues'>): Cue[] {
  const all = cues.flatMap(({ cue, words, firstAtMs, soundedUntilAtMs }) => {
    const { sound } = CUE_TABLE[cue];
    const instants = instantsFrom({ cue, firstAtMs }).map(
      (dueAtMs, repeat): Cue => ({
        key: `${sessionId} ${cue} ${dueAtMs}`,
        id: cue,
        sessionId,
        sound,
        dueAtMs,
        repeat,
        words,
      }),
    );
    return instants.filter(({ dueAtMs }) => soundedUntilAtMs === null || dueAtMs > soundedUntilAtMs + SAME_INSTANT_MS);
  });
  return all.sort((one, other) => one.dueAtMs - other.dueAtMs);
}

export type { CueId } from './cue-table.ts';
