import type { Beam, Exposure } from '../procedure/exposure.ts';
import { type SessionRecord, stateOf } from '../procedure/record.ts';
import { type AnsweredBy, madeUpById } from './made-up-troubles.ts';
import type { Thrown } from './thrown.ts';
import { weightJudged } from './wrong-weight.ts';

/** What became of a trouble that was thrown in. Spans are real time, ms: a person is not faster when the clock is. */
export type Judged =
  /** `overdue`: more time went by than was the aim. */
  | { readonly became: 'open'; readonly overdue: boolean }
  | { readonly became: 'met'; readonly tookMs: number | null }
  | { readonly became: 'late'; readonly tookMs: number }
  | { readonly became: 'missed' };

/** Judges by the session's record alone: nothing is met that is not written. */
export function judge(thrown: Thrown, record: SessionRecord, nowMs: number): Judged {
  const { answeredBy, withinS } = madeUpById(thrown.trouble);
  if (answeredBy.by === 'waiting for the window') return heldOff(record, nowMs);
  if (answeredBy.by === 'putting the weight right') return weightJudged(thrown, record);
  const answeredAtMs = answeredMs(answeredBy, record, thrown.atMs);
  const aimMs = (withinS ?? 0) * 1000;
  if (answeredAtMs !== null) {
    const tookMs = Math.max(0, answeredAtMs - thrown.atMs) / thrown.rate;
    return { became: tookMs <= aimMs ? 'met' : 'late', tookMs };
  }
  if (!canBeAnswered(answeredBy, record, thrown.atMs)) return { became: 'missed' };
  return { became: 'open', overdue: (nowMs - thrown.atMs) / thrown.rate > aimMs };
}

type Answered = Exclude<AnsweredBy, { by: 'waiting for the window' | 'putting the weight right' }>;

/** When the record first shows the answer; null while it does not. An early stop takes pump and beam off too. */
function answeredMs(answeredBy: Answered, record: SessionRecord, atMs: number): number | null {
  if (answeredBy.by === 'taking the beam off') return beamTakenOffMs(record, atMs);
  const { card, hold } = answeredBy;
  const instants = [
    ...record.troubles.filter((one) => one.card === card).map((one) => one.atMs),
    ...(record.course?.infusion.holds ?? [])
      .filter(({ reason }) => reason === hold || reason === card)
      .map(({ heldAtMs }) => heldAtMs),
    ...(record.stopped === null ? [] : [record.stopped.atMs]),
  ].filter((one) => one >= atMs);
  const [first] = instants.sort((one, other) => one - other);
  return first ?? null;
}

const canBeAnswered = (answeredBy: Answered, record: SessionRecord, atMs: number): boolean =>
  answeredBy.by === 'taking the beam off'
    ? shiningAt(record, atMs)?.beam.offAtMs === null
    : stateOf(record) === 'infusing';

/** Off before the ordered seconds were over: else it was the laser that ended it, and nobody. */
function beamTakenOffMs(record: SessionRecord, atMs: number): number | null {
  const shining = shiningAt(record, atMs);
  if (shining === null || shining.beam.offAtMs === null) return null;
  const { exposure, beam } = shining;
  const givenBeforeMs = exposure.beams
    .filter(({ onAtMs }) => onAtMs < beam.onAtMs)
    .reduce((sum, { onAtMs, offAtMs }) => sum + (offAtMs ?? onAtMs) - onAtMs, 0);
  const dueAtMs = beam.onAtMs + exposure.plannedMs - givenBeforeMs;
  return shining.beam.offAtMs < dueAtMs ? shining.beam.offAtMs : null;
}

/** The stretch of light that it was thrown into; one that was set back since may seem to have ended before. */
function shiningAt(record: SessionRecord, atMs: number): { exposure: Exposure; beam: Beam } | null {
  const begun = (record.course?.exposures ?? [])
    .flatMap((exposure) => exposure.beams.map((beam) => ({ exposure, beam })))
    .filter(({ beam }) => beam.onAtMs <= atMs)
    .sort((one, other) => one.beam.onAtMs - other.beam.onAtMs);
  const lasting = begun.find(({ beam: { offAtMs } }) => offAtMs === null || offAtMs >= atMs);
  return lasting ?? begun.at(-1) ?? null;
}

/** Met once the window is open, or the session over, and no light was begun before. */
function heldOff(record: SessionRecord, nowMs: number): Judged {
  const { course } = record;
  if (course === null) return { became: 'open', overdue: false };
  const early = course.exposures.some(({ beams }) => beams.some(({ onAtMs }) => onAtMs < course.lightDueAtMs));
  if (early) return { became: 'missed' };
  const over = record.stopped !== null || nowMs >= course.lightDueAtMs;
  return over ? { became: 'met', tookMs: null } : { became: 'open', overdue: false };
}
