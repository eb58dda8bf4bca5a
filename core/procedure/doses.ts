import { dosesAt, flushConsequence, type Line, lineEffect } from '../dosing/line.ts';
import { infusionRanMs } from './infusion.ts';
import type { SessionRecord } from './record.ts';

/** Where the dose is at an instant, and where it will be when the pump ends. Plug flow; holds counted as the pump's. */
export interface DosesNow {
  readonly orderedMg: number;
  readonly inPatientMg: number;
  readonly inLineMg: number;
  readonly inSyringeMg: number;
  readonly pumpEndS: number;
  readonly atPumpEndMg: number;
  readonly inLineAtPumpEndMg: number;
  /** Known once the flush is done. */
  readonly notDeliveredMg: number | null;
}

/** The line of a session; one that is not known is taken to hold nothing, and the record says that it was not known. */
export function lineOf(record: SessionRecord): Line | null {
  if (record.plan === null) return null;
  const { lineMl, primedWith } = record.line ?? { lineMl: 0, primedWith: 'drug' as const };
  return { infusate: record.plan.infusate, lineMl, primedWith };
}

/** How long the pump runs until the syringe is empty, ms. */
export function pumpRunsMs(record: SessionRecord): number {
  const line = lineOf(record);
  if (line === null) throw new Error('no pump runs without a plan');
  return lineEffect(line).pumpEndS * 1000;
}

/** Null before there is a plan. */
export function dosesNow(record: SessionRecord, atMs: number): DosesNow | null {
  const line = lineOf(record);
  if (line === null) return null;
  const { pumpEndS, doseAtPumpEndMg, doseInLineMg } = lineEffect(line);
  const infusedS = record.course === null ? 0 : infusionRanMs(record.course.infusion, atMs) / 1000;
  const { inPatientMg, inLineMg, inSyringeMg } = dosesAt({ ...line, infusedS });
  const flush = record.course?.flush ?? null;
  const flushedMg = flush?.deliveredMg ?? 0;
  return {
    orderedMg: line.infusate.doseAfterRoundingMg,
    inPatientMg: inPatientMg + flushedMg,
    inLineMg: flush?.notDeliveredMg ?? inLineMg,
    inSyringeMg,
    pumpEndS,
    atPumpEndMg: doseAtPumpEndMg,
    inLineAtPumpEndMg: doseInLineMg,
    notDeliveredMg: flush?.notDeliveredMg ?? null,
  };
}

/** What a flush of so many mL brings to the patient of what the line holds, and what it leaves. Empty without a plan. */
export function flushed(record: SessionRecord, flushMl: number): { deliveredMg?: number; notDeliveredMg?: number } {
  const line = lineOf(record);
  const { course } = record;
  if (line === null || course === null) return {};
  const infusedS = infusionRanMs(course.infusion, course.flush?.beganAtMs ?? course.t0AtMs) / 1000;
  const { inLineMg } = dosesAt({ ...line, infusedS });
  return flushConsequence({ doseInLineMg: inLineMg, lineMl: line.lineMl, flushMl });
}
