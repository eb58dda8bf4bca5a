import { cuesOf } from '../../core/procedure/cues.ts';
import type { ScreenName, Snapshot } from '../../core/protocol/messages.ts';
import type { Language } from '../../core/settings/language.ts';
import { hearMessages } from '../link/connection.ts';
import { createStore, useStore } from '../link/external-store.ts';
import { snapshotNow, stationNow } from '../link/store.ts';
import { type Carrier, type Carrying, carrying, type Wish } from './carrying.ts';
import { type CueClock, cueClock, type DueCue } from './cue-clock.ts';
import { type HowlerSpeaker, howlerSpeaker } from './howler-speaker.ts';
import { outcomeReports } from './outcomes.ts';
import { canSound, type SoundState } from './sound-state.ts';
import { followVolume } from './volume.ts';

/** A cue that has come due, as `CueLine` shows it. */
export interface CueShown extends DueCue {
  /** Tells two showings of one cue apart. */
  readonly at: number;
}

const LOADING: SoundState = { state: 'blocked', words: 'the sounds are being loaded' };
const shown = createStore<CueShown | null>(null);
const sound = createStore<SoundState>(LOADING);
const trusted = createStore(false);
let speaker: HowlerSpeaker | null = null;

/** The cue that came due last, for the eye beside the ear; null once it is over. */
export const useCueShown = (): CueShown | null => useStore(shown);

/** Whether cues can be expected to be heard from this window. */
export const useSoundState = (): SoundState => useStore(sound);

export const soundNow = (): SoundState => sound.get();

/** Whether some window sounds the cues, and nothing speaks against their being heard. */
export const useSoundTrusted = (): boolean => useStore(trusted);

/** Sounds the check. `near`: a cue sounds, or is about to; `cannot`: the state of the sound says why. */
export const playSoundCheck = (): Promise<'sounding' | 'near' | 'cannot'> =>
  speaker?.check(spokenBy(snapshotNow())) ?? Promise.resolve('cannot');

/** The language in which words are spoken; null where the site wants none. */
const spokenBy = (snapshot: Snapshot | null): Language | null =>
  snapshot?.settings.spokenCues === true ? snapshot.settings.language : null;

/** Sounds the cues of every session, or stands by to. Called once, by console and board. */
export function followCues(screen: ScreenName): void {
  const opened = howlerSpeaker();
  speaker = opened;
  followVolume();
  const reports = outcomeReports(() => performance.now());
  const role: Carrying = carrying(screen, navigator.locks, () => {
    const snapshot = snapshotNow();
    if (snapshot !== null) follow(snapshot);
  });
  const clock: CueClock = cueClock({
    stationNowMs: stationNow,
    rate: () => snapshotNow()?.rate ?? 1,
    pageNowMs: () => performance.now(),
    speaker: opened,
    carrier: role.carrier,
    tell: reports.tell,
    notice: (due) => shown.set({ ...due, at: performance.now() }),
    after: (delayMs, call) => {
      const timer = setTimeout(call, delayMs);
      return () => clearTimeout(timer);
    },
  });

  const seek = (): void => {
    sound.set(opened.soundState());
    role.wish(wishOf(screen, snapshotNow(), sound.get()));
    trusted.set(isTrusted(role.carrier(), sound.get()));
  };
  opened.onChange(seek);
  seek();

  function follow(snapshot: Snapshot): void {
    seek();
    const spoken = spokenBy(snapshot);
    if (spoken !== null) opened.loadWords(spoken);
    const cues = snapshot.sessions.flatMap(cuesOf);
    clock.keep(cues, spoken);
    reports.follow(snapshot);
    forgetOver(snapshot);
  }
  hearMessages((message) => {
    if (message.type === 'snapshot') follow(message);
  });
}

/** Whoever cannot sound leaves it to one who can. */
function wishOf(screen: ScreenName, snapshot: Snapshot | null, state: SoundState): Wish {
  if (snapshot === null || !canSound(state)) return 'none';
  return snapshot.settings.cuesPlayedBy === screen ? 'take' : 'wait';
}

/** All windows have the same devices: what one of them misses, no other has. */
function isTrusted(carrier: Carrier, { state }: SoundState): boolean {
  if (carrier === 'another') return state === 'ready' || state === 'blocked';
  return carrier === 'this' && state === 'ready';
}

/** What a cue asked for is done, or it was said to be heard: nothing of it is left to show. */
function forgetOver({ sessions }: Snapshot): void {
  const present = shown.get()?.cue;
  if (present === undefined) return;
  const view = sessions.find(({ sessionId }) => sessionId === present.sessionId);
  if (!view?.cues.some(({ cue }) => cue === present.id)) shown.set(null);
}
