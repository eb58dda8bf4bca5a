import { exposureDueAtMs } from './exposure.ts';
import { infusionDueAtMs, infusionRanMs } from './infusion.ts';
import type { Course, RungName, SessionRecord } from './record.ts';

/** A timer's end as it was due and as it was entered, in seconds from T0. `actualS` is null while it has not come. */
export interface TimerReport {
  readonly name: string;
  readonly dueS: number;
  readonly actualS: number | null;
}

/** Every timer of a session's course; none before the pump has started. */
export function timerReport(record: SessionRecord): TimerReport[] {
  const { course } = record;
  if (course === null) return [];
  const row = (name: string, rung: RungName, plannedAtMs: number): TimerReport => {
    const seen = record.rung[rung];
    const fromT0S = (atMs: number): number => Math.round(atMs - course.t0AtMs) / 1000;
    return {
      name,
      dueS: fromT0S(seen?.dueAtMs ?? plannedAtMs),
      actualS: seen === undefined ? null : fromT0S(seen.rungAtMs),
    };
  };
  const rows = [
    row('infusion end', 'infusion-due', plannedEndAtMs(course)),
    row('light window', 'light-due', course.lightDueAtMs),
  ];
  if (course.secondEyeDueAtMs !== null) rows.push(row('second eye limit', 'second-eye-due', course.secondEyeDueAtMs));
  for (const exposure of course.exposures) {
    const first = exposure.beams[0];
    if (first === undefined) continue;
    const plannedAtMs = exposureDueAtMs(exposure) ?? first.onAtMs + exposure.plannedMs;
    rows.push(row(`exposure, ${exposure.eye} eye`, `exposure-due:${exposure.eye}`, plannedAtMs));
  }
  return rows;
}

/** Where the infusion would have ended, had it not been cut short: its holds counted as far as they were made good. */
function plannedEndAtMs({ infusion, t0AtMs }: Course): number {
  const dueAtMs = infusionDueAtMs(infusion);
  if (dueAtMs !== null) return dueAtMs;
  const lastAtMs = infusion.pumpOffAtMs ?? infusion.holds.at(-1)?.heldAtMs ?? t0AtMs;
  return lastAtMs + infusion.plannedMs - infusionRanMs(infusion, lastAtMs);
}
