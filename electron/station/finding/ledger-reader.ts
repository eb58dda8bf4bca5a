import Database from 'better-sqlite3';
import type { Entry } from '../../../core/ledger/entry.ts';
import { entryOf, type Row } from '../ledger.ts';

/** Which ledger a file is: the identity in its first entry, and that entry's hash. */
export interface LedgerIdentity {
  readonly fileId: string;
  readonly firstHash: string;
}

/** What the index reads of a ledger, by a connection of its own that cannot write. */
export interface LedgerReader {
  /** Null while the file has no first entry, or one that does not name it. */
  identity(): LedgerIdentity | null;
  head(): { readonly seq: number; readonly hash: string };
  hashAt(seq: number): string | null;
  sessions(): number;
  /** Sessions opened before a sequence, newest first. */
  openedBefore(seq: number, limit: number): OpenedSession[];
  session(sessionId: string): OpenedSession | null;
  /** Sessions that have an entry after one sequence and up to another. */
  touched(afterSeq: number, uptoSeq: number): OpenedSession[];
  read(session: OpenedSession): ReadSession;
  close(): void;
}

export interface OpenedSession {
  readonly sessionId: string;
  readonly firstSeq: number;
  readonly practice: boolean;
}

/** A session's entries as far as they can be read. */
export interface ReadSession {
  readonly entries: readonly Entry[];
  /** Entries without a session, from its first to its last. */
  readonly stationEntries: readonly Entry[];
  /** Of what is stored, read or not. */
  readonly stored: {
    readonly entries: number;
    readonly lastSeq: number;
    readonly openedWallMs: number;
    readonly offsetMin: number;
  };
  /** The first that cannot be read, and why; null where all can. */
  readonly unreadable: { readonly seq: number; readonly says: string } | null;
}

interface SessionColumns {
  readonly id: string;
  readonly opened_seq: number;
  readonly practice: number;
}

export function ledgerReader(file: string): LedgerReader {
  const db = new Database(file, { readonly: true, fileMustExist: true, timeout: 2000 });
  const first = db.prepare<[], Row>('SELECT * FROM entries WHERE seq = 1');
  const last = db.prepare<[], { seq: number; hash: string }>('SELECT seq, hash FROM entries ORDER BY seq DESC LIMIT 1');
  const hashOf = db.prepare<[number], { hash: string }>('SELECT hash FROM entries WHERE seq = ?');
  const count = db.prepare<[], number>('SELECT count(*) FROM sessions').pluck();
  const before = db.prepare<[number, number], SessionColumns>(
    'SELECT * FROM sessions WHERE opened_seq < ? ORDER BY opened_seq DESC LIMIT ?',
  );
  const one = db.prepare<[string], SessionColumns>('SELECT * FROM sessions WHERE id = ?');
  const between = db.prepare<[number, number], SessionColumns>(`
    SELECT * FROM sessions
    WHERE id IN (SELECT session FROM entries WHERE seq > ? AND seq <= ? AND session IS NOT NULL)`);
  const ofSession = db.prepare<[string], Row>('SELECT * FROM entries WHERE session = ? ORDER BY seq');
  const ofStation = db.prepare<[number, number], Row>(
    'SELECT * FROM entries WHERE session IS NULL AND seq BETWEEN ? AND ? ORDER BY seq',
  );

  return {
    identity: () => identityIn(first.get()),
    head: () => last.get() ?? { seq: 0, hash: '' },
    hashAt: (seq) => (seq === 0 ? '' : (hashOf.get(seq)?.hash ?? null)),
    sessions: () => count.get() ?? 0,
    openedBefore: (seq, limit) => before.all(seq, limit).map(openedOf),
    session: (sessionId) => {
      const columns = one.get(sessionId);
      return columns === undefined ? null : openedOf(columns);
    },
    touched: (afterSeq, uptoSeq) => between.all(afterSeq, uptoSeq).map(openedOf),
    read: ({ sessionId, firstSeq }) => {
      const rows = ofSession.all(sessionId);
      const lastSeq = rows.at(-1)?.seq ?? firstSeq;
      const { entries, unreadable } = readable(rows);
      return {
        entries,
        unreadable,
        stationEntries: readable(ofStation.all(firstSeq, lastSeq)).entries,
        stored: {
          entries: rows.length,
          lastSeq,
          openedWallMs: rows[0]?.wall_ms ?? 0,
          offsetMin: rows[0]?.offset_min ?? 0,
        },
      };
    },
    close: () => db.close(),
  };
}

const openedOf = ({ id, opened_seq, practice }: SessionColumns): OpenedSession => ({
  sessionId: id,
  firstSeq: opened_seq,
  practice: practice === 1,
});

function identityIn(row: Row | undefined): LedgerIdentity | null {
  if (row === undefined) return null;
  const [entry] = readable([row]).entries;
  const fileId = entry?.payload.file;
  return { fileId: typeof fileId === 'string' ? fileId : '', firstHash: row.hash };
}

/** Entries up to the first that cannot be read. */
function readable(rows: readonly Row[]): Pick<ReadSession, 'entries' | 'unreadable'> {
  const entries: Entry[] = [];
  for (const row of rows) {
    try {
      entries.push(entryOf(row));
    } catch (error) {
      const why = error instanceof Error ? error.message.replace(/\s+/g, ' ') : String(error);
      return { entries, unreadable: { seq: row.seq, says: `cannot be read: ${why}` } };
    }
  }
  return { entries, unreadable: null };
}
