import { type ClinicSession, clinicSession } from '../../../core/ledger/clinic.ts';
import { DEVIATION_IDS, type DeviationId, deviationsOf } from '../../../core/ledger/deviations.ts';
import { measuresOf, type SessionMeasures } from '../../../core/ledger/measures.ts';
import { replay } from '../../../core/ledger/replay.ts';
import { blind } from '../../../core/procedure/blind.ts';
import type { SessionRow } from '../../../core/protocol/finding.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import type { OpenedSession, ReadSession } from './ledger-reader.ts';

/** What is measured of one session, whatever the limits. */
export interface MeasuredSession {
  readonly row: SessionRow;
  /** Null where not even the entry that opens it can be read. */
  readonly measures: SessionMeasures | null;
  /** What the first person entered is not to be shown yet. */
  readonly withheld: boolean;
}

/** What the index keeps of one session. */
export interface KeptSession extends MeasuredSession {
  /** What a clinic's figures need of it; null where nothing was measured. */
  readonly clinic: ClinicSession | null;
}

/** Reads a session as its entries have it, as far as they can be read. */
export function keptSession(session: OpenedSession, read: ReadSession, limits: Limits): KeptSession {
  const measures = measuresIn(read);
  if (measures === null) return { row: bareRow(session, read), measures, clinic: null, withheld: false };
  const withheld = measures.state === 'planning' && isBlind(read);
  return judged({ row: rowOf(measures, withheld), measures, withheld }, limits);
}

/** The same session by other limits: what was measured stays. */
export function judged(measured: MeasuredSession, limits: Limits): KeptSession {
  const { measures, row } = measured;
  if (measures === null) return { ...measured, clinic: null };
  const ids = deviationsOf(measures, limits).map(({ ruleId }) => ruleId);
  return { ...measured, row: { ...row, deviations: eachOnce(ids) }, clinic: clinicSession(measures, ids) };
}

/** In the order of the rules. */
const eachOnce = (ids: readonly DeviationId[]): DeviationId[] => DEVIATION_IDS.filter((id) => ids.includes(id));

function measuresIn({ entries, stationEntries, stored, unreadable }: ReadSession): SessionMeasures | null {
  if (entries.length === 0) return null;
  const measures = measuresOf(entries, stationEntries);
  return unreadable === null
    ? measures
    : { ...measures, entries: stored.entries, lastSeq: stored.lastSeq, trouble: measures.trouble ?? unreadable };
}

/** A session that does not replay to its end shows nothing that might still be withheld. */
function isBlind({ entries, unreadable }: ReadSession): boolean {
  if (unreadable !== null) return true;
  try {
    return blind(replay(entries).context);
  } catch {
    return true;
  }
}

function rowOf(measures: SessionMeasures, withheld: boolean): SessionRow {
  const { regimenId, regimenName, trouble } = measures;
  return {
    sessionId: measures.sessionId,
    firstSeq: measures.firstSeq,
    lastSeq: measures.lastSeq,
    entries: measures.entries,
    openedWallMs: measures.openedWallMs,
    offsetMin: measures.offsetMin,
    patientCode: measures.patientCode,
    state: measures.state,
    practice: measures.practice,
    regimen: withheld || regimenId === null ? null : { id: regimenId, name: regimenName ?? regimenId },
    eyes: withheld ? [] : [...measures.eyes],
    lots: [...measures.lots],
    people: measures.people.map((person) => ({ ...person })),
    deviations: [],
    lightStartOffsetMs: measures.light?.startOffsetMs ?? null,
    trouble: trouble === null ? null : troubleWords(trouble),
  };
}

const troubleWords = ({ seq, says }: { seq: number; says: string }): string => `entry ${seq}: ${says}`;

function bareRow({ sessionId, firstSeq, practice }: OpenedSession, { stored, unreadable }: ReadSession): SessionRow {
  return {
    sessionId,
    firstSeq,
    lastSeq: stored.lastSeq,
    entries: stored.entries,
    openedWallMs: stored.openedWallMs,
    offsetMin: stored.offsetMin,
    patientCode: null,
    state: 'planning',
    practice,
    regimen: null,
    eyes: [],
    lots: [],
    people: [],
    deviations: [],
    lightStartOffsetMs: null,
    trouble: unreadable === null ? 'it has no entries' : troubleWords(unreadable),
  };
}
