import { SAME_INSTANT_MS } from '../../procedure/cue-occurrences.ts';
import type { SessionRecord } from '../../procedure/record.ts';
import type { AwaitedCue, CueReport, Noted } from './noted.ts';
import type { CueMeasure } from './shape.ts';

/** What became of every cue that was told of, and each that came due and was not; in order of their instants. */
export function cueMeasures({ course }: SessionRecord, noted: Noted): CueMeasure[] {
  const { cueReports, cuesAreTold, awaitedCues } = noted;
  const untold = cuesAreTold ? awaitedCues.filter((one) => !isTold(one, cueReports)) : [];
  const missing = untold.map((one) => ({ ...one, outcome: 'missing' as const, lateMs: 0 }));
  return [...cueReports, ...missing]
    .sort((one, other) => one.dueAtMs - other.dueAtMs)
    .map(
      ({ dueAtMs, ...cue }): CueMeasure => ({
        ...cue,
        lateMs: Math.round(cue.lateMs),
        dueFromT0Ms: course === null ? null : Math.round(dueAtMs - course.t0AtMs),
      }),
    );
}

const isTold = ({ cue, dueAtMs }: AwaitedCue, reports: readonly CueReport[]): boolean =>
  reports.some((report) => report.cue === cue && Math.abs(report.dueAtMs - dueAtMs) <= SAME_INSTANT_MS);
