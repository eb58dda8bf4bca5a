import Database from 'better-sqlite3';
import type { Entry } from '../../../core/ledger/entry.ts';
import { fileIdIn } from '../../../core/ledger/verify.ts';
import { entryOf, type Row } from '../ledger.ts';
import { isDamage } from '../open-database.ts';

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

/** The ledger itself cannot be read: to make its index again would not help. */
export class LedgerUnreadable extends Error {}

/** @throws LedgerUnreadable from everything it does, where the file does not let itself be read. */
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
    identity: () => asked(() => identityIn(first.get())),
    head: () => asked(() => last.get() ?? { seq: 0, hash: '' }),
    hashAt: (seq) => (seq === 0 ? '' : asked(() => hashOf.get(seq)?.hash ?? null)),
    sessions: () => asked(() => count.get() ?? 0),
    openedBefore: (seq, limit) => asked(() => before.all(seq, limit).map(openedOf)),
    session: (sessionId) => {
      const columns = asked(() => one.get(sessionId));
      return columns === undefined ? null : openedOf(columns);
    },
    touched: (afterSeq, uptoSeq) => asked(() => between.all(afterSeq, uptoSeq).map(openedOf)),
    read: ({ sessionId, firstSeq }) => {
      const { rows, ...read } = readable(ofSession.iterate(sessionId), firstSeq);
      const lastSeq = rows.at(-1)?.seq ?? firstSeq;
      return {
        ...read,
        stationEntries: readable(ofStation.iterate(firstSeq, lastSeq), firstSeq).entries,
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

function asked<T>(ask: () => T): T {
  try {
    return ask();
  } catch (error) {
    if (!(error instanceof Database.SqliteError)) throw error;
    throw new LedgerUnreadable(`the ledger cannot be read (${error.code})`);
  }
}

const openedOf = ({ id, opened_seq, practice }: SessionColumns): OpenedSession => ({
  sessionId: id,
  firstSeq: opened_seq,
  practice: practice === 1,
});

function identityIn(row: Row | undefined): LedgerIdentity | null {
  if (row === undefined) return null;
  const [entry] = readable([row], 1).entries;
  return { fileId: (entry && fileIdIn(entry)) ?? '', firstHash: row.hash };
}

type Readable = Pick<ReadSession, 'entries' | 'unreadable'> & { readonly rows: readonly Row[] };

/** Rows as far as the file gives them, and entries up to the first that cannot be read. */
function readable(stored: Iterable<Row>, firstSeq: number): Readable {
  const rows: Row[] = [];
  const entries: Entry[] = [];
  let unreadable: ReadSession['unreadable'] = null;
  try {
    for (const row of stored) {
      rows.push(row);
      if (unreadable === null) unreadable = readInto(entries, row);
    }
  } catch (error) {
    if (!isDamage(error)) throw error;
    const seq = rows.at(-1)?.seq ?? firstSeq;
    unreadable ??= { seq, says: 'the file is damaged: nothing can be read from here on' };
  }
  return { rows, entries, unreadable };
}

function readInto(entries: Entry[], row: Row): ReadSession['unreadable'] {
  try {
    entries.push(entryOf(row));
    return null;
  } catch (error) {
    const why = error instanceof Error ? error.message.replace(/\s+/g, ' ') : String(error);
    return { seq: row.seq, says: `cannot be read: ${why}` };
  }
}
