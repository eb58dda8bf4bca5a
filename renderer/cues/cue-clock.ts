import type { Cue } from '../../core/procedure/cues.ts';

/** What a cue clock leans on: the station's clock, the screen's timers, and something that sounds. */
export interface CueClockParts {
  /** The station's continuous now. */
  readonly nowMs: () => number;
  /** How many times as fast as real time the station's clock runs: 1 except in practice. */
  readonly rate: () => number;
  /** Sounds a cue. False where it could not be sounded now; it is asked again until it is too late. */
  readonly sound: (cue: Cue) => boolean;
  /** Calls back after so many real milliseconds. Returns the way to call it off. */
  readonly after: (delayMs: number, call: () => void) => () => void;
}

export interface CueClock {
  /** The cues as they stand now. One whose instant moved is sounded at the new one. */
  keep(cues: readonly Cue[]): void;
  stop(): void;
}

/** Later than this a cue would tell something that is no longer so. In the station's time. */
export const TOO_LATE_MS = 3000;

/** Timers are armed anew at least this often, so that a moved instant or a stopped clock is noticed. */
const SLICE_MS = 250;

/** A cue that could not be sounded is tried again this soon. */
const AGAIN_MS = 100;

/** Sounds each cue once, at its instant. */
export function cueClock({ nowMs, rate, sound, after }: CueClockParts): CueClock {
  const done = new Set<string>();
  let waiting: readonly Cue[] = [];
  let callOff = (): void => {};

  const look = (): void => {
    callOff();
    const now = nowMs();
    soundDue(now);
    waiting = waiting.filter((cue) => !done.has(keyOf(cue)));
    if (waiting.length > 0) callOff = after(delayMs(now), look);
  };

  const soundDue = (now: number): void => {
    for (const cue of waiting) {
      if (cue.dueAtMs > now || done.has(keyOf(cue))) continue;
      if (now - cue.dueAtMs > TOO_LATE_MS || sound(cue)) done.add(keyOf(cue));
    }
  };

  const delayMs = (now: number): number => {
    const nextMs = Math.min(...waiting.map(({ dueAtMs }) => (dueAtMs <= now ? AGAIN_MS : (dueAtMs - now) / rate())));
    return Math.min(SLICE_MS, nextMs);
  };

  return {
    keep(cues) {
      waiting = cues;
      look();
    },
    stop() {
      callOff();
      waiting = [];
    },
  };
}

const keyOf = ({ sessionId, id, dueAtMs }: Cue): string => `${sessionId} ${id} ${dueAtMs}`;
