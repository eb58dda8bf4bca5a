import { dosesAt } from '../../dosing/line.ts';
import { lineOf } from '../../procedure/doses.ts';
import { deliveredJPerCm2, deliveredMs, type Exposure } from '../../procedure/exposure.ts';
import { infusionRanMs } from '../../procedure/infusion.ts';
import type { Course, SessionRecord } from '../../procedure/record.ts';
import { FLUSH_MS } from '../../procedure/spans.ts';
import type { Noted } from './noted.ts';
import type {
  BeamMeasure,
  ExposureMeasure,
  FlushMeasure,
  HoldMeasure,
  SecondEyeMeasure,
  SessionMeasures,
  SkippedFlush,
} from './shape.ts';

type CourseMeasures = Pick<
  SessionMeasures,
  't0' | 'reconstitution' | 'infusion' | 'holds' | 'flush' | 'light' | 'secondEye' | 'exposures'
>;

/** Of a session of which nothing could be read. */
export const NO_COURSE: CourseMeasures = {
  t0: null,
  reconstitution: null,
  infusion: null,
  holds: [],
  flush: null,
  light: null,
  secondEye: null,
  exposures: [],
};

/** What drug and light come to. What still runs is measured up to `readAtMs`, the last entry that was read. */
export function courseMeasures(record: SessionRecord, noted: Noted, readAtMs: number): CourseMeasures {
  const { course } = record;
  const reconstitution = reconstitutionOf(record, noted);
  if (course === null || noted.t0Seq === null) return { ...NO_COURSE, reconstitution };
  const { infusion, t0AtMs } = course;
  return {
    t0: {
      seq: noted.t0Seq,
      wallMs: course.t0WallMs,
      offsetMin: course.t0OffsetMin,
      continuousMs: t0AtMs,
      boot: record.boot,
      setBackMs: Math.round(course.t0PressedAtMs - t0AtMs),
    },
    reconstitution,
    infusion: {
      plannedMs: Math.round(infusion.plannedMs),
      ranMs: Math.round(infusionRanMs(infusion, readAtMs)),
      endFromT0Ms: infusion.pumpOffAtMs === null ? null : Math.round(infusion.pumpOffAtMs - t0AtMs),
      endSeq: noted.pumpOffSeq,
    },
    holds: holdsOf(course, noted),
    flush: flushOf(record, course, noted),
    light: lightOf(course, noted),
    secondEye: secondEyeOf(course, noted),
    exposures: course.exposures.map((exposure) => exposureOf(exposure, course, noted, readAtMs)),
  };
}

function reconstitutionOf(record: SessionRecord, noted: Noted): SessionMeasures['reconstitution'] {
  const { reconstitutedAtMs, reconstitutedWallMs, course } = record;
  if (reconstitutedAtMs === null || reconstitutedWallMs === null || noted.reconstitutedSeq === null) return null;
  const endAtMs = course?.infusion.pumpOffAtMs ?? null;
  return {
    seq: noted.reconstitutedSeq,
    wallMs: Math.round(reconstitutedWallMs),
    toInfusionEndMs: endAtMs === null ? null : Math.round(endAtMs - reconstitutedAtMs),
  };
}

function holdsOf({ infusion, t0AtMs }: Course, { holdSeqs }: Noted): HoldMeasure[] {
  return infusion.holds.map(({ heldAtMs, resumedAtMs, reason }, index) => {
    const overAtMs = resumedAtMs ?? infusion.pumpOffAtMs;
    return {
      seq: holdSeqs[index] ?? 0,
      reason: reason as HoldMeasure['reason'],
      fromT0Ms: Math.round(heldAtMs - t0AtMs),
      heldMs: overAtMs === null ? null : Math.round(overAtMs - heldAtMs),
    };
  });
}

function flushOf(record: SessionRecord, course: Course, noted: Noted): FlushMeasure | null {
  const { flush, infusion, t0AtMs } = course;
  if (infusion.pumpOffAtMs === null) return null;
  const ended = flush !== null && flush.endedAtMs !== null;
  return {
    plannedMs: FLUSH_MS,
    beganFromT0Ms: flush === null ? null : Math.round(flush.beganAtMs - t0AtMs),
    beganSeq: noted.flushBeganSeq,
    ranMs: flush === null || flush.endedAtMs === null ? null : Math.round(flush.endedAtMs - flush.beganAtMs),
    endSeq: noted.flushEndedSeq,
    flushMl: flush?.flushMl ?? null,
    notDeliveredMg: ended && record.line !== null ? rounded(flush.notDeliveredMg) : null,
    skipped: ended ? null : skippedFlush(record, course, noted),
  };
}

/** The pump is off, the flush is not done, and the session is past it: what the line then held may have stayed there. */
function skippedFlush(record: SessionRecord, { infusion, flush }: Course, noted: Noted): SkippedFlush | null {
  const line = lineOf(record);
  if (line === null || noted.lightOverSeq === null) return null;
  const { inLineMg, inSyringeMg } = dosesAt({ ...line, infusedS: infusion.ranBeforeMs / 1000 });
  return {
    seq: noted.lightOverSeq,
    how: flush === null ? 'not begun' : 'cut short',
    inLineMg: record.line === null ? null : rounded(inLineMg),
    inSyringeMg: rounded(inSyringeMg) ?? 0,
  };
}

function lightOf({ exposures, lightDueAtMs, t0AtMs }: Course, noted: Noted): SessionMeasures['light'] {
  const first = firstLights(exposures, noted)[0] ?? null;
  return {
    dueFromT0Ms: Math.round(lightDueAtMs - t0AtMs),
    startFromT0Ms: first === null ? null : Math.round(first.atMs - t0AtMs),
    startSeq: first?.seq ?? null,
    startOffsetMs: first === null ? null : Math.round(first.atMs - lightDueAtMs),
    overSeq: noted.lightOverSeq,
  };
}

function secondEyeOf({ exposures, secondEyeDueAtMs, t0AtMs }: Course, noted: Noted): SecondEyeMeasure | null {
  if (secondEyeDueAtMs === null) return null;
  const second = firstLights(exposures, noted)[1] ?? null;
  return {
    limitFromT0Ms: Math.round(secondEyeDueAtMs - t0AtMs),
    eye: second?.eye ?? null,
    startSeq: second?.seq ?? null,
    startOffsetMs: second === null ? null : Math.round(second.atMs - secondEyeDueAtMs),
  };
}

/** When each eye that had light had its first, in the order in which they were begun. */
function firstLights(exposures: readonly Exposure[], { beamSeqs }: Noted) {
  return exposures
    .flatMap(({ eye, beams: [first] }) =>
      first === undefined ? [] : [{ eye, atMs: first.onAtMs, seq: beamSeqs[eye][0]?.onSeq ?? 0 }],
    )
    .sort((one, other) => one.atMs - other.atMs);
}

function exposureOf(exposure: Exposure, { t0AtMs }: Course, noted: Noted, readAtMs: number): ExposureMeasure {
  const { eye, plannedMs, orderedJPerCm2, beams } = exposure;
  return {
    eye,
    orderedS: Math.round(plannedMs) / 1000,
    orderedJPerCm2,
    deliveredS: Math.round(deliveredMs(exposure, readAtMs)) / 1000,
    deliveredJPerCm2: rounded(deliveredJPerCm2(exposure, readAtMs)) ?? 0,
    beams: beams.map(({ onAtMs, offAtMs }, index): BeamMeasure => {
      const { onSeq = 0, offSeq = null } = noted.beamSeqs[eye][index] ?? {};
      return {
        onSeq,
        onFromT0Ms: Math.round(onAtMs - t0AtMs),
        offSeq,
        offFromT0Ms: offAtMs === null ? null : Math.round(offAtMs - t0AtMs),
      };
    }),
  };
}

/** To four decimals: finer is neither measured nor shown. Null where it is no number. */
const rounded = (value: number | null): number | null =>
  typeof value === 'number' && Number.isFinite(value) ? Math.round(value * 10_000) / 10_000 : null;
