import type { Cue } from '../../core/procedure/cues.ts';
import type { Language } from '../../core/settings/language.ts';
import { inTurn, type Turn } from './in-turn.ts';
import { type SoundFile, wordsOf } from './speaker.ts';
import { kindOf, latestOf } from './told.ts';

/** A cue that is still to sound. Instants are on the page's clock. */
export interface Waiting {
  readonly cue: Cue;
  readonly dueMs: number;
  /** Where it is placed already; null where it is not. */
  readonly placed: Placement | null;
}

/** What is to be heard of a cue, from when. */
export interface Placement {
  readonly cue: Cue;
  /** Its instant when it was placed. */
  readonly dueMs: number;
  readonly startMs: number;
  readonly lengthMs: number;
  readonly files: readonly SoundFile[];
  /** Its instant was missed: the sound says so first. */
  readonly late: boolean;
}

export interface CuePlan {
  readonly placements: readonly Placement[];
  /** Missed, or without a turn before the next of their kind, which tells of them: these are not sounded any more. */
  readonly silent: readonly Cue[];
}

interface Present {
  readonly nowMs: number;
  /** A sound that has begun ends at this instant. */
  readonly busyUntilMs: number;
  /** The language of the words after the tones; null where none are spoken. */
  readonly spoken: Language | null;
  readonly lengthMs: (file: SoundFile) => number;
  /** How long before it is heard a sound has to be asked for. */
  readonly leadMs: number;
}

/** What is missed by more than this is told as late. In real time: what a busy page takes is no lateness. */
export const LATE_AFTER_MS = 1_000;
/** Sounds are placed so long ahead: a page that stands still for less does not delay them. */
const AHEAD_MS = 3_000;
/** Turns are reckoned with what is due within this: the longest sound, and what comes after it. */
const RECKONED_MS = 15_000;
/** An instant that is further off than this from where it was has moved. */
const MOVED_MS = 25;
/** A little more than the lead: what is asked for within this is on its way to the sound card, and is left there. */
const ON_ITS_WAY_MS = 40;

/** Which cues are to sound, when, and with what; those already placed are reckoned with. */
export function cuePlan(cues: readonly Waiting[], present: Present): CuePlan {
  const { nowMs } = present;
  const waiting = cues.map(forgettingWhatMoved).filter(({ dueMs }) => dueMs <= nowMs + RECKONED_MS);
  const missed = waiting.filter((one) => isMissed(one, nowMs)).map(({ cue }) => cue);
  const last = latestOf(missed);
  const silent = missed.filter((cue) => cue !== last);
  const pinned = waiting.flatMap((one) => (isPinned(one, present) && one.placed !== null ? [one.placed] : []));
  const free = waiting.filter(({ cue }) => !silent.includes(cue) && !pinned.some((one) => one.cue.key === cue.key));
  const isLate = ({ cue, placed }: Waiting): boolean => cue === last || placed?.late === true;
  const busyUntilMs = Math.max(present.busyUntilMs, ...pinned.map(({ startMs, lengthMs }) => startMs + lengthMs));
  const turns = free.map((one) => turnOf(one, isLate(one), present));
  const places = inTurn(turns, busyUntilMs);
  const placements = free.flatMap((one): Placement[] => {
    const place = places.get(one.cue.key);
    // One that only waits for its turn is placed however late that is: what lies ahead of it is not missed.
    if (place === undefined || Math.min(place.startMs, one.dueMs) > nowMs + AHEAD_MS) return [];
    const { cue, dueMs } = one;
    const late = isLate(one);
    const files = filesOf(cue, late, place.words ? present.spoken : null);
    return [{ cue, dueMs, startMs: place.startMs, lengthMs: lengthOf(files, present), files, late }];
  });
  const passedOver = free.filter(({ cue, dueMs }) => dueMs <= nowMs && !places.has(cue.key)).map(({ cue }) => cue);
  return { placements: [...pinned, ...placements], silent: [...silent, ...passedOver] };
}

function forgettingWhatMoved({ cue, dueMs, placed }: Waiting): Waiting {
  const stands = placed !== null && Math.abs(placed.dueMs - dueMs) <= MOVED_MS;
  return { cue, dueMs, placed: stands ? placed : null };
}

/** Its instant has gone by, and so has its turn: the page, the machine or the sound card stood still. */
const isMissed = ({ dueMs, placed }: Waiting, nowMs: number): boolean =>
  Math.max(dueMs, placed?.startMs ?? dueMs) < nowMs - LATE_AFTER_MS;

const isPinned = (one: Waiting, { nowMs, leadMs }: Present): boolean =>
  one.placed !== null && one.placed.startMs <= nowMs + leadMs + ON_ITS_WAY_MS && !isMissed(one, nowMs);

function turnOf({ cue, dueMs }: Waiting, late: boolean, present: Present): Turn {
  return {
    key: cue.key,
    kind: kindOf(cue),
    dueMs: Math.max(dueMs, present.nowMs + present.leadMs),
    toneMs: lengthOf(filesOf(cue, late, null), present),
    wordsMs: lengthOf(spokenOf(cue, late, present.spoken), present),
    repeat: cue.repeat > 0 && !late,
  };
}

const spokenOf = ({ id }: Cue, late: boolean, language: Language | null): SoundFile[] =>
  language === null ? [] : [...(late ? [wordsOf('late', language)] : []), wordsOf(id, language)];

const filesOf = (cue: Cue, late: boolean, spoken: Language | null): SoundFile[] => [
  ...(late ? (['late'] as const) : []),
  cue.sound,
  ...spokenOf(cue, late, spoken),
];

const lengthOf = (files: readonly SoundFile[], { lengthMs }: Present): number =>
  files.reduce((sum, file) => sum + lengthMs(file), 0);
