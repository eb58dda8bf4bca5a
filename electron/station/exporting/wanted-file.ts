import type { Wanted } from '../../../core/protocol/exporting.ts';
import { chainExport } from '../../../core/report/chain/chain-export.ts';
import type { Extract } from '../../../core/report/extract.ts';
import { sessionsTable } from '../../../core/report/tables/sessions-table.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import { csvOf } from '../../export/csv.ts';
import { troubleIn } from '../../export/export.ts';
import { MAKERS } from '../../export/forms.ts';
import type { Piece } from '../../export/write-aside.ts';
import type { ExtractSource } from '../extracts.ts';
import { sha256 } from '../sha256.ts';
import { type NamedFile, nameOf } from './file-name.ts';

/** A file in the making. */
export interface WantedFile {
  readonly pieces: Iterable<Piece>;
  /** How many pieces there will be, about; for telling how far it is. */
  readonly expected: number;
  /** Once every piece was taken: how the file is called, and what is not in it. */
  finished(): NamedFile & { readonly notes: readonly string[] };
}

/** What a file begins and ends with beside its lines. */
const AROUND = 2;

/** Makes what is wanted from a ledger opened for reading. @throws Withheld, RangeError where it cannot be made. */
export async function wantedFile(source: ExtractSource, wanted: Wanted, limits: Limits): Promise<WantedFile> {
  switch (wanted.what) {
    case 'session':
      return oneSession(source.extract(wanted.sessionId), wanted, limits);
    case 'patient':
      return onePatient(source, wanted);
    case 'table':
      return table(source, wanted, limits);
  }
}

async function oneSession(extract: Extract, wanted: Wanted & { what: 'session' }, limits: Limits): Promise<WantedFile> {
  const lined = wanted.as === 'csv' || wanted.as === 'json';
  return {
    pieces: await MAKERS[wanted.as](extract, { limits, hashes: null }),
    expected: lined ? extract.entries.length + AROUND : 1,
    finished: () => ({ ...nameOf(wanted, extract), notes: notesOf([extract]) }),
  };
}

function onePatient(source: ExtractSource, wanted: Wanted & { what: 'patient' }): WantedFile {
  const { patientCode } = wanted;
  const sessions = sessionsOf(source, patientCode).map((id) => source.extract(id));
  return {
    pieces: chainExport({ sessions, patientCode, hashes: null, sha256 }),
    expected: sessions.reduce((sum, { entries }) => sum + entries.length, AROUND),
    finished: () => ({ ...nameOf(wanted, sessions[0]), notes: notesOf(sessions) }),
  };
}

/** One session after the other is read, set and let go: the longest ledger needs no more room than its longest session. */
function table(source: ExtractSource, wanted: Wanted & { what: 'table' }, limits: Limits): WantedFile {
  const { patientCode } = wanted;
  const ids = patientCode === null ? source.sessionIds() : sessionsOf(source, patientCode);
  const notes: string[] = [];
  let first: Extract | undefined;
  function* extracts(): Generator<Extract> {
    for (const id of ids) {
      const extract = source.extract(id);
      first ??= extract;
      notes.push(...notesOf([extract]));
      yield extract;
    }
  }
  return {
    pieces: csvOf(sessionsTable(extracts(), limits)),
    expected: ids.length + 1,
    finished: () => ({ ...nameOf(wanted, first), notes: cut(notes) }),
  };
}

function sessionsOf(source: ExtractSource, patientCode: string): string[] {
  const ids = source.sessionIdsOf(patientCode);
  if (ids.length === 0) throw new RangeError(`there is no session of patient ${patientCode} in this ledger`);
  return ids;
}

function notesOf(extracts: readonly Extract[]): string[] {
  const { damaged, withheld } = troubleIn(extracts);
  return cut([...damaged, ...withheld]);
}

const NOTES_AT_MOST = 20;

/** The first of them: the file itself has them all. */
const cut = (notes: readonly string[]): string[] =>
  notes.length <= NOTES_AT_MOST
    ? [...notes]
    : [...notes.slice(0, NOTES_AT_MOST), `and ${notes.length - NOTES_AT_MOST} more, which the file names`];
