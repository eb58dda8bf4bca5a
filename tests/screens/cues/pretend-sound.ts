import { type Cue, type CueId, cuesOf } from '../../../core/procedure/cues.ts';
import { type CueOutcome, cueClock, type DueCue } from '../../../renderer/cues/cue-clock.ts';
import type { Armed, SoundFile, Speaker } from '../../../renderer/cues/speaker.ts';

/** How long each sound lasts: a second, what stands before a late one half of that, words two. */
export const TONE_MS = 1_000;
export const LATE_MS = 500;
export const WORDS_MS = 2_000;
/** What a sound is asked for later than that long before is not heard at once. */
const LEAD_MS = 250;

export interface Heard {
  readonly files: readonly SoundFile[];
  readonly atMs: number;
}

interface Lying {
  readonly files: readonly SoundFile[];
  /** On the audio clock. */
  readonly whenMs: number;
  heard: boolean;
}

/**
 * A cue clock with clocks that are moved by hand: the page's, the station's, and one of a sound card that can stand
 * still or drift. `heard` is what came out of the loudspeaker, and when by the page's clock.
 */
export function onTheBench({ startMs = 0, rate = 1 } = {}) {
  let pageMs = startMs;
  let stationAheadMs = 0;
  let cardBehindMs = 0;
  let carrier: 'this' | 'another' | 'none' = 'this';
  let able = true;
  const timers = new Set<{ atMs: number; call: () => void }>();
  const lying = new Set<Lying>();
  const heard: Heard[] = [];
  const told: CueOutcome[] = [];
  const noticed: DueCue[] = [];

  const speaker: Speaker = {
    look: () => {},
    able: () => able,
    leadMs: () => LEAD_MS,
    lengthMs: (file) => (file === 'late' ? LATE_MS : file.startsWith('spoken/') ? WORDS_MS : TONE_MS),
    arm(files, startMs): Armed {
      const sound: Lying = { files, whenMs: Math.max(startMs, pageMs + LEAD_MS) - cardBehindMs, heard: false };
      lying.add(sound);
      return { beginsMs: () => sound.whenMs + cardBehindMs, stop: () => lying.delete(sound) };
    },
  };
  const clock = cueClock({
    stationNowMs: () => pageMs * rate + stationAheadMs,
    rate: () => rate,
    pageNowMs: () => pageMs,
    speaker,
    carrier: () => carrier,
    tell: (outcome) => told.push(outcome),
    notice: (due) => noticed.push(due),
    after: (delayMs, call) => {
      const timer = { atMs: pageMs + delayMs, call };
      timers.add(timer);
      return () => timers.delete(timer);
    },
  });

  function passTo(untilMs: number): void {
    const begun = [...lying].filter(({ heard, whenMs }) => !heard && whenMs + cardBehindMs <= untilMs);
    for (const sound of begun.sort((one, other) => one.whenMs - other.whenMs)) {
      sound.heard = true;
      heard.push({ files: sound.files, atMs: Math.max(pageMs, sound.whenMs + cardBehindMs) });
    }
    pageMs = untilMs;
  }

  /** Lets time pass, with every timer on the way. */
  function runTo(untilMs: number): void {
    for (let next = soonest(); next !== undefined && next.atMs <= untilMs; next = soonest()) {
      timers.delete(next);
      passTo(Math.max(pageMs, next.atMs));
      next.call();
    }
    passTo(Math.max(pageMs, untilMs));
  }
  const soonest = () => [...timers].sort((one, other) => one.atMs - other.atMs)[0];

  return {
    clock,
    heard,
    told,
    noticed,
    runTo,
    keep: (cues: readonly Cue[], spoken = false) => clock.keep(cues, spoken ? 'en' : null),
    /** The page does nothing until then; the sound card goes on. */
    pageStopsUntil: (untilMs: number): void => {
      passTo(untilMs);
      runTo(untilMs);
    },
    /** Neither the page nor the sound card does anything until then. */
    allStopsUntil: (untilMs: number): void => {
      cardBehindMs += untilMs - pageMs;
      pageMs = untilMs;
      runTo(untilMs);
    },
    /** The whole machine sleeps: its own clocks stand still, the station's has counted on. */
    machineSleeps: (forMs: number): void => {
      stationAheadMs += forMs;
      runTo(pageMs);
    },
    cardFallsBehind: (byMs: number): void => {
      cardBehindMs += byMs;
    },
    set carrier(next: 'this' | 'another' | 'none') {
      carrier = next;
    },
    set able(next: boolean) {
      able = next;
    },
  };
}

type Bench = ReturnType<typeof onTheBench>;

/** What was heard, each by its files and its instant. */
export const soundsOf = ({ heard }: Bench): [string, number][] =>
  heard.map(({ files, atMs }) => [files.join(' '), atMs]);
export const outcomesOf = ({ told }: Bench): [number, string][] =>
  told.map(({ cue, outcome }) => [cue.dueAtMs, outcome]);

/** A cue as a snapshot would list it. */
export function cue(id: CueId, dueAtMs: number, { sessionId = 'one', repeat = 0 } = {}): Cue {
  const [first] = cuesOf({ sessionId, cues: [{ cue: id, words: id, firstAtMs: dueAtMs, soundedUntilAtMs: null }] });
  if (first === undefined) throw new Error(`a cue has no instant: ${id}`);
  return { ...first, repeat };
}

/** A cue with all its repeats. */
export const repeating = (id: CueId, firstAtMs: number, sessionId = 'one'): Cue[] =>
  cuesOf({ sessionId, cues: [{ cue: id, words: id, firstAtMs, soundedUntilAtMs: null }] });
