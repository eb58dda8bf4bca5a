import { SESSION_FORMS, type SessionForm } from '../../core/protocol/exporting.ts';
import { chainExport } from '../../core/report/chain/chain-export.ts';
import { type Extract, standingOf, WAITS, withheldIn } from '../../core/report/extract.ts';
import { sessionsTable } from '../../core/report/tables/sessions-table.ts';
import type { Limits } from '../../core/settings/limits.ts';
import type { ExtractSource } from '../station/extracts.ts';
import { sha256 } from '../station/sha256.ts';
import { csvOf } from './csv.ts';
import { ENDINGS, MAKERS } from './forms.ts';
import { counted } from './progress.ts';
import { type FolderFile, type Written, writeFolder, writeWhole } from './write-aside.ts';

export interface WantedSession {
  readonly what: 'session';
  readonly sessionId: string;
  readonly as: SessionForm;
  readonly withGaps: boolean;
}

export interface WantedPatient {
  readonly what: 'patient';
  readonly patientCode: string;
  readonly as: 'json' | 'folder';
  readonly withGaps: boolean;
}

/** The table of all sessions, or of one patient's. */
export interface WantedTable {
  readonly what: 'sessions';
  readonly patientCode: string | null;
}

/** What is to be exported, and as what. */
export type Wanted = WantedSession | WantedPatient | WantedTable;

export interface Destination {
  readonly out: string;
  readonly replace: boolean;
  readonly signal: AbortSignal;
  readonly say: (words: string) => void;
}

export interface Exported {
  readonly sessions: number;
  /** What is damaged in the ledger, and so not or only partly in the export. */
  readonly damaged: readonly string[];
  /** Sessions that are not shown yet, and why. */
  readonly withheld: readonly string[];
  readonly files: readonly Written[];
}

/** Exports from a ledger opened for reading; nothing of it is ever changed. @throws CannotWrite, Withheld, RangeError */
export async function exportFrom(
  source: ExtractSource,
  wanted: Wanted,
  limits: Limits,
  to: Destination,
): Promise<Exported> {
  switch (wanted.what) {
    case 'session':
      return oneSession(source, wanted, limits, to);
    case 'patient':
      return wanted.as === 'json' ? patientChain(source, wanted, to) : patientFolder(source, wanted, limits, to);
    case 'sessions':
      return table(source, wanted, limits, to);
  }
}

async function oneSession(
  source: ExtractSource,
  { sessionId, as, withGaps }: WantedSession,
  limits: Limits,
  to: Destination,
): Promise<Exported> {
  const extract = source.extract(sessionId);
  const pieces = await MAKERS[as](extract, { limits, hashes: withGaps ? source.hashes : null });
  const written = await writeWhole(to.out, pieces, to);
  return { sessions: 1, ...troubleIn([extract]), files: [written] };
}

/** One session after the other is read, set and let go: the longest ledger needs no more room than its longest session. */
async function table(
  source: ExtractSource,
  { patientCode }: WantedTable,
  limits: Limits,
  to: Destination,
): Promise<Exported> {
  const ids = patientCode === null ? source.sessionIds() : sessionsOf(source, patientCode);
  const trouble: Trouble[] = [];
  function* extracts(): Generator<Extract> {
    for (const id of counted(ids, ids.length, 'sessions', to.say)) {
      const extract = source.extract(id);
      trouble.push(troubleIn([extract]));
      yield extract;
    }
  }
  const written = await writeWhole(to.out, csvOf(sessionsTable(extracts(), limits)), to);
  const damaged = trouble.flatMap((one) => one.damaged);
  const withheld = trouble.flatMap((one) => one.withheld);
  return { sessions: ids.length, damaged, withheld, files: [written] };
}

async function patientChain(
  source: ExtractSource,
  { patientCode, withGaps }: WantedPatient,
  to: Destination,
): Promise<Exported> {
  const sessions = sessionsOf(source, patientCode).map((id) => source.extract(id));
  const hashes = withGaps ? source.hashes : null;
  const written = await writeWhole(to.out, chainExport({ sessions, patientCode, hashes, sha256 }), to);
  return { sessions: sessions.length, ...troubleIn(sessions), files: [written] };
}

/** All of one patient: a table of the sessions, their chain as one, and each session in every other form. */
async function patientFolder(
  source: ExtractSource,
  { patientCode, withGaps }: WantedPatient,
  limits: Limits,
  to: Destination,
): Promise<Exported> {
  const hashes = withGaps ? source.hashes : null;
  const extracts = sessionsOf(source, patientCode).map((id) => source.extract(id));
  const shown = extracts.filter((extract) => !withheldIn(extract, standingOf(extract)));
  const files: FolderFile[] = [
    { name: 'sessions.csv', pieces: () => csvOf(sessionsTable(extracts, limits)) },
    { name: 'chain.json', pieces: () => chainExport({ sessions: extracts, patientCode, hashes, sha256 }) },
    ...shown.flatMap((extract, index) => sessionFiles(extract, index + 1, limits)),
  ];
  const written = await writeFolder(to.out, counted(files, files.length, 'files', to.say), to.signal);
  return { sessions: extracts.length, ...troubleIn(extracts), files: written };
}

function sessionFiles(extract: Extract, place: number, limits: Limits): FolderFile[] {
  const { record, trouble } = standingOf(extract);
  const forms = SESSION_FORMS.filter((form) => {
    if (form === 'fhir') return trouble === null;
    return form === 'csv' || (form === 'pdf' && record !== null);
  });
  return forms.map((form) => ({
    name: `session-${String(place).padStart(3, '0')}-${ENDINGS[form]}`,
    pieces: () => MAKERS[form](extract, { limits, hashes: null }),
  }));
}

function sessionsOf(source: ExtractSource, patientCode: string): string[] {
  const ids = source.sessionIdsOf(patientCode);
  if (ids.length === 0) throw new RangeError(`there is no session of patient ${patientCode} in this ledger`);
  return ids;
}

type Trouble = Pick<Exported, 'damaged' | 'withheld'>;

/** What is damaged in sessions, and which of them are withheld. */
export function troubleIn(extracts: readonly Extract[]): Trouble {
  const standings = extracts.map((extract) => ({ extract, standing: standingOf(extract) }));
  return {
    damaged: standings.flatMap(({ extract: { sessionId, unreadable }, standing: { trouble } }) => {
      const all = unreadable.length > 0 || trouble === null ? unreadable : [trouble];
      return all.map(({ seq, says }) => `session ${sessionId}, entry ${seq}: ${says}`);
    }),
    withheld: standings
      .filter(({ extract, standing }) => withheldIn(extract, standing))
      .map(({ extract: { sessionId } }) => `session ${sessionId}: ${WAITS}`),
  };
}
