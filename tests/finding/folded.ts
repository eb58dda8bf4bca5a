import { deviationsOf } from '../../core/ledger/deviations.ts';
import type { FindFilter } from '../../core/ledger/find-filter.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { replay } from '../../core/ledger/replay.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { readLedgerFile } from '../../electron/station/read-file.ts';

/** A session as its entries give it when they are read from the ledger, with no index. */
export interface Folded {
  readonly sessionId: string;
  readonly firstSeq: number;
  readonly openedWallMs: number;
  readonly patientCode: string | null;
  readonly lots: readonly string[];
  readonly regimenId: string | null;
  readonly eyes: readonly string[];
  readonly people: readonly string[];
  readonly state: string;
  readonly practice: boolean;
  readonly deviations: readonly string[];
}

/** Every session of a ledger, folded one after the other. */
export function foldedSessions(file: string): Folded[] {
  const ledger = readLedgerFile(file);
  try {
    const station = [...ledger.entries()].filter(({ sessionId }) => sessionId === null);
    return ledger.sessions().map(({ id }) => {
      const entries = ledger.entriesOf(id);
      const record = replay(entries).context;
      const withheld = stateOf(record) === 'planning' && record.secondCheck === null;
      const order = withheld ? null : record.order;
      const authors = entries.map(({ author }) => author).filter(({ role }) => role !== 'station');
      const found = deviationsOf(measuresOf(entries, station), DEFAULT_LIMITS);
      return {
        sessionId: id,
        firstSeq: entries[0]?.seq ?? 0,
        openedWallMs: entries[0]?.wallMs ?? 0,
        patientCode: record.patient?.patientCode ?? null,
        lots: record.drug === null ? [] : [record.drug.lot],
        regimenId: order?.regimenId ?? null,
        eyes: order?.lesions.map(({ eye }) => eye) ?? [],
        people: authors.map(({ initials }) => initials),
        state: stateOf(record),
        practice: record.practice,
        deviations: found.map(({ ruleId }) => ruleId),
      };
    });
  } finally {
    ledger.close();
  }
}

/** Sessions that answer to every field of a filter, newest first: by looking at each. */
export function lookedThrough(sessions: readonly Folded[], filter: FindFilter): Folded[] {
  return sessions
    .filter((session) => answers(session, filter))
    .sort((one, other) => other.openedWallMs - one.openedWallMs || other.firstSeq - one.firstSeq);
}

function answers(session: Folded, filter: FindFilter): boolean {
  const { fromWallMs, toWallMs, patientCode, lot, regimenId, eye, person, state, deviation, practice } = filter;
  const lower = (text: string): string => text.toLowerCase();
  return [
    fromWallMs === undefined || session.openedWallMs >= fromWallMs,
    toWallMs === undefined || session.openedWallMs < toWallMs,
    patientCode === undefined || lower(session.patientCode ?? '\0').startsWith(lower(patientCode)),
    lot === undefined || session.lots.some((one) => lower(one) === lower(lot)),
    regimenId === undefined || session.regimenId === regimenId,
    eye === undefined || session.eyes.includes(eye),
    person === undefined || session.people.includes(person),
    state === undefined || session.state === state,
    deviation === undefined ||
      (deviation === 'any' ? session.deviations.length > 0 : session.deviations.includes(deviation)),
    practice === undefined || practice === 'both' || session.practice === (practice === 'practice'),
  ].every(Boolean);
}
