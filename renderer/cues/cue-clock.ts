import type { Cue } from '../../core/procedure/cues.ts';
import type { Language } from '../../core/settings/language.ts';
import { type CuePlan, cuePlan, LATE_AFTER_MS, type Placement } from './cue-plan.ts';
import type { Armed, Speaker } from './speaker.ts';
import { kindOf, latestOf, Told } from './told.ts';

/** What a cue clock leans on: clocks, timers, and something that sounds. */
export interface CueClockParts {
  /** The station's continuous now. */
  readonly stationNowMs: () => number;
  /** How many times as fast as real time the station's clock runs: 1 except in practice. */
  readonly rate: () => number;
  readonly pageNowMs: () => number;
  readonly speaker: Speaker;
  /** Which window sounds the cues now. */
  readonly carrier: () => 'this' | 'another' | 'none';
  /** Hears once what became of each cue. */
  readonly tell: (outcome: CueOutcome) => void;
  /** Hears of each cue at its instant, sounded or not. Of those that were missed, of the last. */
  readonly notice: (due: DueCue) => void;
  /** Calls back after so many real milliseconds. Returns the way to call it off. */
  readonly after: (delayMs: number, call: () => void) => () => void;
}

/** `lateMs` is in the station's time. */
export interface CueOutcome {
  readonly cue: Cue;
  readonly outcome: 'sounded' | 'late' | 'silent';
  readonly lateMs: number;
}

/** `lateMs`, in the station's time: by how much its instant was missed; null where it was not. */
export interface DueCue {
  readonly cue: Cue;
  readonly lateMs: number | null;
}

export interface CueClock {
  /** The cues as they stand now, and the language in which words follow each tone; null for none. One whose instant moved is sounded at the new one; one that is gone is not. */
  keep(cues: readonly Cue[], spoken: Language | null): void;
  stop(): void;
}

/** Instants are compared anew at least this often. */
const LOOK_EVERY_MS = 200;
/** A sound that lies this near to where it should is left there. */
const NEAR_MS = 4;
/** A cue that nobody could sound for so long stays silent. In real time. */
export const GIVEN_UP_AFTER_MS = 10_000;

interface Sound {
  readonly placement: Placement;
  readonly armed: Armed;
}

/** Sounds each cue once, at its instant, one after the other, and says what became of each. */
export function cueClock(parts: CueClockParts): CueClock {
  const { stationNowMs, rate, pageNowMs, speaker, carrier, tell, notice, after } = parts;
  const told = new Told();
  const noticed = new Told();
  const sounds = new Map<string, Sound>();
  const missedSinceMs = new Map<string, number>();
  let cues: readonly Cue[] = [];
  let spoken: Language | null = null;
  let busyUntilMs = Number.NEGATIVE_INFINITY;
  let callOff = (): void => {};

  function look(): void {
    callOff();
    speaker.look();
    const nowMs = pageNowMs();
    const isCarrier = carrier() === 'this' && speaker.able();
    if (isCarrier) tellBegun(nowMs);
    noticeDue(nowMs);
    const present = { nowMs, busyUntilMs, spoken, lengthMs: speaker.lengthMs, leadMs: speaker.leadMs() };
    if (isCarrier) follow(cuePlan(waiting().map(withPlace), present));
    else follow({ placements: [], silent: carrier() === 'another' ? [] : givenUp(nowMs) });
    const nextMs = Math.min(
      ...waiting()
        .map((cue) => dueMs(cue) - nowMs)
        .filter((inMs) => inMs > 0),
    );
    callOff = after(Math.min(LOOK_EVERY_MS, Math.max(1, nextMs)), look);
  }

  const dueMs = ({ dueAtMs }: Cue): number => pageNowMs() + (dueAtMs - stationNowMs()) / rate();
  const waiting = (): Cue[] => cues.filter((cue) => !told.has(cue));
  const withPlace = (cue: Cue) => ({ cue, dueMs: dueMs(cue), placed: sounds.get(cue.key)?.placement ?? null });

  /** What has begun sounds to its end, and is reported. Of its kind nothing before it is waited for any more. */
  function tellBegun(nowMs: number): void {
    for (const { placement, armed } of sounds.values()) {
      const begunMs = armed.beginsMs();
      if (begunMs > nowMs) continue;
      const { cue, startMs, lengthMs, late } = placement;
      sounds.delete(cue.key);
      busyUntilMs = Math.max(busyUntilMs, begunMs + lengthMs);
      silence(waiting().filter((one) => kindOf(one) === kindOf(cue) && one.dueAtMs < cue.dueAtMs));
      const stoodStill = begunMs - startMs > LATE_AFTER_MS;
      settle(cue, late || stoodStill ? 'late' : 'sounded', begunMs);
    }
  }

  /** For the eye, in every window. */
  function noticeDue(nowMs: number): void {
    const past = cues.filter((cue) => dueMs(cue) <= nowMs && !noticed.has(cue));
    const missed = past.filter((cue) => dueMs(cue) < nowMs - LATE_AFTER_MS);
    const last = latestOf(missed);
    if (last !== null) {
      const first = missed.find((cue) => kindOf(cue) === kindOf(last)) ?? last;
      notice({ cue: last, lateMs: lateMs(first, nowMs) });
    }
    for (const cue of past) {
      if (!missed.includes(cue)) notice({ cue, lateMs: null });
      noticed.add(cue);
    }
  }

  /** Brings what is on the audio clock to what the plan says. */
  function follow({ placements, silent }: CuePlan): void {
    silence(silent);
    const planned = new Map(placements.map((placement) => [placement.cue.key, placement]));
    for (const [key, { placement, armed }] of sounds) {
      const next = planned.get(key);
      const stays = next !== undefined && (next === placement || isNear(next, placement, armed));
      if (stays) planned.delete(key);
      else {
        armed.stop();
        sounds.delete(key);
      }
    }
    for (const [key, placement] of planned) {
      sounds.set(key, { placement, armed: speaker.arm(placement.files, placement.startMs) });
    }
  }

  const isNear = (next: Placement, { files }: Placement, armed: Armed): boolean =>
    Math.abs(armed.beginsMs() - next.startMs) <= NEAR_MS && String(next.files) === String(files);

  /** Missed, with nobody to sound them for too long. */
  function givenUp(nowMs: number): Cue[] {
    const missed = waiting().filter((cue) => dueMs(cue) < nowMs - LATE_AFTER_MS);
    for (const { key } of missed) if (!missedSinceMs.has(key)) missedSinceMs.set(key, nowMs);
    return missed.filter(({ key }) => nowMs - (missedSinceMs.get(key) ?? nowMs) > GIVEN_UP_AFTER_MS);
  }

  function silence(which: readonly Cue[]): void {
    for (const cue of which) settle(cue, 'silent', pageNowMs());
  }

  function settle(cue: Cue, outcome: CueOutcome['outcome'], atMs: number): void {
    told.add(cue);
    missedSinceMs.delete(cue.key);
    tell({ cue, outcome, lateMs: lateMs(cue, atMs) });
  }

  const lateMs = (cue: Cue, atMs: number): number => Math.max(0, Math.round((atMs - dueMs(cue)) * rate()));

  return {
    keep(next, spokenIn) {
      cues = next;
      spoken = spokenIn;
      look();
    },
    stop() {
      callOff();
      follow({ placements: [], silent: [] });
    },
  };
}
