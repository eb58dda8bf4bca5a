import { FLUSH_MS } from '../../core/procedure/spans.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { DaySpan } from './arc-geometry.ts';

/** What the arc draws of a course. */
export type DayCourse = Pick<
  NonNullable<SessionView['course']>,
  | 't0AtMs'
  | 'infusionDueAtMs'
  | 'infusionPlannedMs'
  | 'infusionRanBeforeMs'
  | 'pumpOffAtMs'
  | 'held'
  | 'holds'
  | 'flushBeganAtMs'
  | 'flushEndedAtMs'
  | 'lightDueAtMs'
  | 'secondEyeDueAtMs'
  | 'exposures'
>;

/** A part of the way that is drawn in a line of its own. */
export interface Stretch {
  readonly kind: 'infusing' | 'held' | 'flushing' | 'waiting' | 'light' | 'infusing ahead' | 'flushing ahead';
  readonly fromAtMs: number;
  readonly toAtMs: number;
}

/** An instant that is marked on the arc. `firm`: it will not move, or has come. */
export interface DayMark {
  readonly kind: 'infusion end' | 'flush end' | 'light window' | 'second eye';
  readonly atMs: number;
  readonly words: string;
  readonly firm: boolean;
}

const MINUTE_MS = 60_000;

/** The arc is at least this long: the limit for a second eye in most regimens, so that two days look alike. */
const LEAST_MS = 20 * MINUTE_MS;

/** Past its end the arc grows in steps, so that what stands on it does not creep. */
const STEP_MS = 5 * MINUTE_MS;

/** From T0 to the last moment that matters, or beyond it once that is past. */
export function daySpan(course: DayCourse, nowMs: number): DaySpan {
  const { t0AtMs } = course;
  const lastAtMs = Math.max(
    t0AtMs + LEAST_MS,
    course.lightDueAtMs + STEP_MS,
    course.secondEyeDueAtMs ?? 0,
    flushEndAtMs(course, nowMs),
    nowMs,
  );
  // The clock has fractions of a millisecond: a sum of them may be a hair over a whole step.
  const steps = Math.ceil(Math.round(lastAtMs - t0AtMs) / STEP_MS);
  return { fromAtMs: t0AtMs, toAtMs: t0AtMs + steps * STEP_MS };
}

/** When the pump went off, or is to; while held, when it would be if it ran again now. */
function infusionEndAtMs(course: DayCourse, nowMs: number): number {
  const { pumpOffAtMs, infusionDueAtMs, infusionPlannedMs, infusionRanBeforeMs } = course;
  return pumpOffAtMs ?? infusionDueAtMs ?? nowMs + infusionPlannedMs - infusionRanBeforeMs;
}

/** The flush begins as the pump goes off: not before now while it still runs. */
function flushEndAtMs(course: DayCourse, nowMs: number): number {
  const { pumpOffAtMs, flushBeganAtMs, flushEndedAtMs } = course;
  const pumpEndAtMs = pumpOffAtMs ?? Math.max(nowMs, infusionEndAtMs(course, nowMs));
  return flushEndedAtMs ?? (flushBeganAtMs ?? pumpEndAtMs) + FLUSH_MS;
}

/** In order of weight: where words have no room, the last go first. */
export function dayMarks(course: DayCourse, nowMs: number): DayMark[] {
  const { pumpOffAtMs, flushEndedAtMs, held, lightDueAtMs, secondEyeDueAtMs } = course;
  const secondEye: DayMark[] =
    secondEyeDueAtMs === null
      ? []
      : [{ kind: 'second eye', atMs: secondEyeDueAtMs, words: 'second eye by', firm: true }];
  return [
    { kind: 'light window', atMs: lightDueAtMs, words: 'light window', firm: true },
    ...secondEye,
    {
      kind: 'infusion end',
      atMs: infusionEndAtMs(course, nowMs),
      words: pumpOffAtMs !== null ? 'infusion ended' : held ? 'infusion end, held' : 'infusion ends',
      firm: !held,
    },
    {
      kind: 'flush end',
      atMs: flushEndAtMs(course, nowMs),
      words: flushEndedAtMs !== null ? 'flush ended' : 'flush ends',
      firm: !held && (pumpOffAtMs !== null || nowMs <= infusionEndAtMs(course, nowMs)),
    },
  ];
}

/** What is to come, then what has been, in order; light last, for it is drawn over the rest. */
export function dayStretches(course: DayCourse, nowMs: number): Stretch[] {
  const { pumpOffAtMs, flushBeganAtMs, flushEndedAtMs } = course;
  const stretches: Stretch[] = [...stretchesAhead(course, nowMs), ...infusionStretches(course, pumpOffAtMs ?? nowMs)];
  if (pumpOffAtMs !== null) {
    const flushFromAtMs = flushBeganAtMs ?? nowMs;
    const flushToAtMs = flushEndedAtMs ?? nowMs;
    stretches.push({ kind: 'waiting', fromAtMs: pumpOffAtMs, toAtMs: flushFromAtMs });
    stretches.push({ kind: 'flushing', fromAtMs: flushFromAtMs, toAtMs: flushToAtMs });
    stretches.push({ kind: 'waiting', fromAtMs: flushToAtMs, toAtMs: nowMs });
  }
  return [...stretches, ...lightStretches(course, nowMs)].filter(({ fromAtMs, toAtMs }) => toAtMs > fromAtMs);
}

function stretchesAhead(course: DayCourse, nowMs: number): Stretch[] {
  const flushFromAtMs = infusionEndAtMs(course, nowMs);
  const flushToAtMs = course.flushEndedAtMs === null ? flushEndAtMs(course, nowMs) : nowMs;
  return [
    { kind: 'infusing ahead', fromAtMs: nowMs, toAtMs: course.pumpOffAtMs === null ? flushFromAtMs : nowMs },
    { kind: 'flushing ahead', fromAtMs: Math.max(nowMs, flushFromAtMs), toAtMs: flushToAtMs },
  ];
}

function infusionStretches({ t0AtMs, holds }: DayCourse, endAtMs: number): Stretch[] {
  const stretches: Stretch[] = [];
  let fromAtMs = t0AtMs;
  for (const { heldAtMs, resumedAtMs } of holds) {
    const toAtMs = resumedAtMs ?? endAtMs;
    stretches.push({ kind: 'infusing', fromAtMs, toAtMs: heldAtMs }, { kind: 'held', fromAtMs: heldAtMs, toAtMs });
    fromAtMs = toAtMs;
  }
  return [...stretches, { kind: 'infusing', fromAtMs, toAtMs: endAtMs }];
}

function lightStretches({ exposures }: DayCourse, nowMs: number): Stretch[] {
  return exposures.flatMap(({ beams }) =>
    beams.map(({ onAtMs, offAtMs }): Stretch => ({ kind: 'light', fromAtMs: onAtMs, toAtMs: offAtMs ?? nowMs })),
  );
}

/** The way of a treatment that has not begun, counted from a T0 of 0. */
export function courseAhead(lightStartMin: number, infusionMin: number): DayCourse {
  const infusionDueAtMs = infusionMin * MINUTE_MS;
  const lightDueAtMs = lightStartMin * MINUTE_MS;
  return {
    ...{
      t0AtMs: 0,
      infusionDueAtMs,
      infusionPlannedMs: infusionDueAtMs,
      infusionRanBeforeMs: 0,
      holds: [],
      held: false,
    },
    ...{ pumpOffAtMs: null, flushBeganAtMs: null, flushEndedAtMs: null },
    ...{ lightDueAtMs, secondEyeDueAtMs: null, exposures: [] },
  };
}
