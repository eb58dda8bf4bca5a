import type { SessionView } from '../../core/protocol/view.ts';
import type { DaySpan } from './arc-geometry.ts';

type Course = NonNullable<SessionView['course']>;

/** A part of the way that is drawn in a line of its own. */
export interface Stretch {
  readonly kind: 'infusing' | 'held' | 'flushing' | 'waiting' | 'light';
  readonly fromAtMs: number;
  readonly toAtMs: number;
}

/** An instant that is marked on the arc. `firm`: it will not move, or has come. */
export interface DayMark {
  readonly kind: 'infusion end' | 'light window' | 'second eye';
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
export function daySpan(course: Course, nowMs: number): DaySpan {
  const { t0AtMs } = course;
  const lastAtMs = Math.max(
    t0AtMs + LEAST_MS,
    course.lightDueAtMs + STEP_MS,
    course.secondEyeDueAtMs ?? 0,
    infusionEndAtMs(course, nowMs),
    nowMs,
  );
  return { fromAtMs: t0AtMs, toAtMs: t0AtMs + Math.ceil((lastAtMs - t0AtMs) / STEP_MS) * STEP_MS };
}

/** When the pump went off, or is to; while held, when it would be if it ran again now. */
function infusionEndAtMs(course: Course, nowMs: number): number {
  const { pumpOffAtMs, infusionDueAtMs, infusionPlannedMs, infusionRanBeforeMs } = course;
  return pumpOffAtMs ?? infusionDueAtMs ?? nowMs + infusionPlannedMs - infusionRanBeforeMs;
}

export function dayMarks(course: Course, nowMs: number): DayMark[] {
  const marks: DayMark[] = [
    { kind: 'light window', atMs: course.lightDueAtMs, words: 'light window', firm: true },
    {
      kind: 'infusion end',
      atMs: infusionEndAtMs(course, nowMs),
      words: course.pumpOffAtMs !== null ? 'infusion ended' : course.held ? 'infusion end, held' : 'infusion ends',
      firm: !course.held,
    },
  ];
  if (course.secondEyeDueAtMs !== null) {
    marks.push({ kind: 'second eye', atMs: course.secondEyeDueAtMs, words: 'second eye by', firm: true });
  }
  return marks;
}

/** What has been, in order; light last, for it is drawn over the rest. */
export function dayStretches(course: Course, nowMs: number): Stretch[] {
  const { pumpOffAtMs, flushBeganAtMs, flushEndedAtMs } = course;
  const stretches: Stretch[] = [...infusionStretches(course, pumpOffAtMs ?? nowMs)];
  if (pumpOffAtMs !== null) {
    const flushFromAtMs = flushBeganAtMs ?? nowMs;
    const flushToAtMs = flushEndedAtMs ?? nowMs;
    stretches.push({ kind: 'waiting', fromAtMs: pumpOffAtMs, toAtMs: flushFromAtMs });
    stretches.push({ kind: 'flushing', fromAtMs: flushFromAtMs, toAtMs: flushToAtMs });
    stretches.push({ kind: 'waiting', fromAtMs: flushToAtMs, toAtMs: nowMs });
  }
  return [...stretches, ...lightStretches(course, nowMs)].filter(({ fromAtMs, toAtMs }) => toAtMs > fromAtMs);
}

function infusionStretches({ t0AtMs, holds }: Course, endAtMs: number): Stretch[] {
  const stretches: Stretch[] = [];
  let fromAtMs = t0AtMs;
  for (const { heldAtMs, resumedAtMs } of holds) {
    const toAtMs = resumedAtMs ?? endAtMs;
    stretches.push({ kind: 'infusing', fromAtMs, toAtMs: heldAtMs }, { kind: 'held', fromAtMs: heldAtMs, toAtMs });
    fromAtMs = toAtMs;
  }
  return [...stretches, { kind: 'infusing', fromAtMs, toAtMs: endAtMs }];
}

function lightStretches({ exposures }: Course, nowMs: number): Stretch[] {
  return exposures.flatMap(({ beams }) =>
    beams.map(({ onAtMs, offAtMs }): Stretch => ({ kind: 'light', fromAtMs: onAtMs, toAtMs: offAtMs ?? nowMs })),
  );
}
