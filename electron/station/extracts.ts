import type { Entry } from '../../core/ledger/entry.ts';
import { fileIdIn } from '../../core/ledger/verify.ts';
import type { Damaged, Extract } from '../../core/report/extract.ts';
import type { Row } from './ledger.ts';
import { isDamage } from './open-database.ts';
import { foundIn, openToRead, Unreadable } from './read-file.ts';

/**
 * A ledger from which sessions are taken, all as they stood at the one moment it was opened, whatever a station writes
 * meanwhile.
 */
export interface ExtractSource {
  /** Every session, in the order of opening. */
  sessionIds(): string[];
  /** Sessions whose last stated patient code is this one, in the order of opening. */
  sessionIdsOf(patientCode: string): string[];
  /** @throws RangeError where there is no such session. */
  extract(sessionId: string): Extract;
  /** Hashes as they are stored, from one sequence to another, both included. */
  hashes(fromSeq: number, toSeq: number): string[];
  /** The hash of an entry as it is stored; null where there is none. */
  hashAt(seq: number): string | null;
  readonly fileId: string;
  readonly head: Extract['head'];
  close(): void;
}

/** @throws Unreadable where the file is not there, is no ledger, or has no entry at all. */
export function openExtracts(file: string): ExtractSource {
  const db = openToRead(file);
  try {
    // One reading transaction, so that head and entries are of one moment; a connection that cannot write holds nobody up.
    db.exec('BEGIN');
    const head = db
      .prepare<[], { seq: number; hash: string }>('SELECT seq, hash FROM entries ORDER BY seq DESC LIMIT 1')
      .get();
    if (head === undefined) throw new Unreadable(`${file} has no entry to export`);
    const ofSession = db.prepare<[string], Row>('SELECT * FROM entries WHERE session = ? ORDER BY seq');
    const ofStation = db.prepare<[number, number], Row>(
      'SELECT * FROM entries WHERE session IS NULL AND seq BETWEEN ? AND ? ORDER BY seq',
    );
    const sessions = db.prepare<[], { id: string; practice: number }>(
      'SELECT id, practice FROM sessions ORDER BY opened_seq',
    );
    const identified = db.prepare<[], Row>(
      "SELECT * FROM entries WHERE kind = 'identify' AND session IS NOT NULL ORDER BY seq",
    );
    const hashOf = db.prepare<[number, number], { hash: string }>(
      'SELECT hash FROM entries WHERE seq BETWEEN ? AND ? ORDER BY seq',
    );
    const practice = new Map(sessions.all().map((row) => [row.id, row.practice === 1]));
    const fileId = fileIdOf(db.prepare<[], Row>('SELECT * FROM entries WHERE seq = 1').get());

    return {
      fileId,
      head,
      sessionIds: () => [...practice.keys()],
      sessionIdsOf: (patientCode) => {
        const codes = new Map([...identified.iterate()].map((row) => [row.session, codeIn(row)]));
        return [...practice.keys()].filter((id) => codes.get(id) === patientCode);
      },
      extract: (sessionId) => {
        const { entries, unreadable } = readRows(() => ofSession.iterate(sessionId));
        const [first] = [...entries, ...unreadable].map(({ seq }) => seq).sort((one, other) => one - other);
        if (first === undefined) throw new RangeError(`there is no session ${sessionId} in ${file}`);
        const lastSeq = entries.at(-1)?.seq ?? first;
        const stationEntries = readRows(() => ofStation.iterate(first, lastSeq)).entries;
        return {
          fileId,
          head,
          sessionId,
          practice: practice.get(sessionId) ?? false,
          entries,
          stationEntries,
          unreadable,
        };
      },
      hashes: (fromSeq, toSeq) => hashOf.all(fromSeq, toSeq).map(({ hash }) => hash),
      hashAt: (seq) => hashOf.get(seq, seq)?.hash ?? null,
      close: () => db.close(),
    };
  } catch (error) {
    db.close();
    throw error;
  }
}

/** Rows that can be read, and those that cannot; a damaged page ends the reading. */
function readRows(rows: () => Iterable<Row>): { entries: Entry[]; unreadable: Damaged[] } {
  const entries: Entry[] = [];
  const unreadable: Damaged[] = [];
  let lastSeq = 0;
  try {
    for (const row of rows()) {
      lastSeq = row.seq;
      const found = foundIn(row);
      if ('entry' in found) entries.push(found.entry);
      else unreadable.push({ seq: found.seq, says: found.unreadable });
    }
  } catch (error) {
    if (!isDamage(error)) throw error;
    const says = error instanceof Error ? error.message : String(error);
    unreadable.push({ seq: lastSeq + 1, says: `nothing can be read from here on: ${says}` });
  }
  return { entries, unreadable };
}

function codeIn(row: Row): string | null {
  const found = foundIn(row);
  return 'entry' in found && typeof found.entry.payload.patientCode === 'string'
    ? found.entry.payload.patientCode
    : null;
}

/** Empty where the first entry, which names the file, cannot be read. */
function fileIdOf(row: Row | undefined): string {
  const found = row === undefined ? null : foundIn(row);
  return found !== null && 'entry' in found ? (fileIdIn(found.entry) ?? '') : '';
}
