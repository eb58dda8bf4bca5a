import { type ClinicSession, clinicFigures } from '../../../core/ledger/clinic.ts';
import type { ClinicFilter } from '../../../core/ledger/find-filter.ts';
import { CLINIC_POINTS } from '../../../core/protocol/clinic.ts';
import type { ClinicReading } from '../../../core/protocol/finding.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import { findPlan } from './find-query.ts';
import { type IndexFile, NotAsKept } from './index-file.ts';

/** What the index keeps of a clinic's sessions for its figures: no entry is read for them. */
export function clinicSessions(db: IndexFile, filter: ClinicFilter): ClinicSession[] {
  const { sql, bound } = findPlan(db, filter).all('clinic');
  const kept = db
    .prepare<(string | number)[], string | null>(sql)
    .pluck()
    .all(...bound);
  return kept.flatMap((text) => (text === null ? [] : [sessionIn(text)]));
}

/** As this index wrote it into its own file. @throws NotAsKept */
function sessionIn(text: string): ClinicSession {
  try {
    return JSON.parse(text);
  } catch {
    throw new NotAsKept('the index holds what it was not given');
  }
}

/** Figures of all of them, with as many points as can be drawn. */
export function clinicReading(sessions: readonly ClinicSession[], limits: Limits): Omit<ClinicReading, 'indexed'> {
  const { lightStarts, ...figures } = clinicFigures(sessions, limits) as ClinicReading['figures'];
  const pointsLeftOut = Math.max(0, lightStarts.points.length - CLINIC_POINTS);
  return {
    figures: { ...figures, lightStarts: { ...lightStarts, points: lightStarts.points.slice(pointsLeftOut) } },
    pointsLeftOut,
  };
}
