import { existsSync } from 'node:fs';
import Database from 'better-sqlite3';
import { canonicalJson, type Entry } from '../../core/ledger/entry.ts';
import type { Found } from '../../core/ledger/verify.ts';
import { entryOf, type Row } from './ledger.ts';
import { MIGRATIONS } from './migrations/index.ts';
import { APPLICATION_ID, isDamage } from './open-database.ts';

/** A ledger file, read by a connection of its own that cannot write. */
export interface LedgerFile {
  /** Every stored entry in order of sequence, also those that cannot be read. */
  found(): IterableIterator<Found>;
  entries(): IterableIterator<Entry>;
  entriesOf(sessionId: string): Entry[];
  sessions(): { id: string; opened_seq: number; practice: number }[];
  /** What is wrong with the file itself: its pages, its schema, its guards, its list of sessions. */
  structure(): string[];
  close(): void;
}

/** The file cannot be read at all. */
export class Unreadable extends Error {}

/** @throws Unreadable where the file is not there, or is no ledger. */
export function readLedgerFile(file: string): LedgerFile {
  const db = openToRead(file);
  const rows = db.prepare<[], Row>('SELECT * FROM entries ORDER BY seq');
  const ofSession = db.prepare<[string], Row>('SELECT * FROM entries WHERE session = ? ORDER BY seq');
  return {
    *found() {
      let seq = 0;
      try {
        for (const row of rows.iterate()) {
          seq = row.seq;
          yield foundIn(row);
        }
      } catch (error) {
        if (!isDamage(error)) throw error;
        const says = error instanceof Error ? error.message : String(error);
        yield { seq: seq + 1, unreadable: `nothing can be read from here on: ${says}` };
      }
    },
    *entries() {
      for (const row of rows.iterate()) yield entryOf(row);
    },
    entriesOf: (sessionId) => ofSession.all(sessionId).map(entryOf),
    sessions: () =>
      db
        .prepare<[], { id: string; opened_seq: number; practice: number }>('SELECT * FROM sessions ORDER BY opened_seq')
        .all(),
    structure: () => [pageFaults, schemaFaults, sessionFaults].flatMap((faults) => unlessDamaged(() => faults(db))),
    close: () => db.close(),
  };
}

/** Every entry of a ledger file, in order. @throws Unreadable */
export function readEntries(file: string): Entry[] {
  const ledger = readLedgerFile(file);
  try {
    return [...ledger.entries()];
  } finally {
    ledger.close();
  }
}

/** A connection that cannot write. @throws Unreadable */
export function openToRead(file: string): Database.Database {
  if (!existsSync(file)) throw new Unreadable(`there is no file ${file}`);
  try {
    const db = new Database(file, { readonly: true, fileMustExist: true });
    db.prepare('SELECT seq FROM entries LIMIT 1').get();
    return db;
  } catch (error) {
    throw new Unreadable(
      `${file} cannot be read as a ledger: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
}

/** An entry as it is stored, or what keeps it from being read. */
export function foundIn(row: Row): Found {
  try {
    const entry = entryOf(row);
    // Two texts can say the same to one reader and not to another, for example with a name given twice.
    if (canonicalJson(entry.payload) !== row.payload) throw new Error('its payload is not written in the one form');
    return { seq: row.seq, entry };
  } catch (error) {
    return { seq: row.seq, unreadable: (error instanceof Error ? error.message : String(error)).replace(/\s+/g, ' ') };
  }
}

function unlessDamaged(faults: () => string[]): string[] {
  try {
    return faults();
  } catch (error) {
    if (isDamage(error)) return [error instanceof Error ? error.message : String(error)];
    throw error;
  }
}

function pageFaults(db: Database.Database): string[] {
  const said = db.pragma('integrity_check(20)') as { integrity_check: string }[];
  return said.map((row) => row.integrity_check).filter((words) => words !== 'ok');
}

/** The schema as this version would make it: a guard that was dropped or bent shows here. */
function schemaFaults(db: Database.Database): string[] {
  const version = Number(db.pragma('user_version', { simple: true }));
  const fresh = new Database(':memory:');
  for (const migration of MIGRATIONS.slice(0, version)) fresh.exec(migration);
  const wanted = schemaOf(fresh);
  const there = schemaOf(db);
  fresh.close();
  const names = new Set([...wanted.keys(), ...there.keys()]);
  const newer =
    version > MIGRATIONS.length ? [`the file says that it is of version ${version}, which is not known`] : [];
  const marked = db.pragma('application_id', { simple: true }) === APPLICATION_ID;
  const faults = [...newer, ...(marked ? [] : ["the file's mark was changed"])];
  const bent = [...names].flatMap((name) => {
    if (wanted.get(name) === there.get(name)) return [];
    if (!there.has(name)) return [`the file's "${name}" is gone`];
    return [wanted.has(name) ? `the file's "${name}" was changed` : `the file has a "${name}" of somebody else's`];
  });
  return [...faults, ...bent];
}

function schemaOf(db: Database.Database): Map<string, string> {
  const rows = db
    .prepare<[], { name: string; sql: string }>("SELECT name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%'")
    .all();
  return new Map(rows.map(({ name, sql }) => [name, sql]));
}

/** The list of sessions is a help for finding; it must say what the entries say. */
function sessionFaults(db: Database.Database): string[] {
  const rows = db
    .prepare<[], { id: string | null; session: string | null; seq: number | null; opened_seq: number | null }>(`
      SELECT sessions.id, sessions.opened_seq, entries.session, entries.seq FROM sessions
      FULL OUTER JOIN (
        SELECT session, seq, CASE WHEN json_valid(payload) THEN coalesce(payload ->> 'practice' = 1, 0) END AS practice
        FROM entries WHERE kind = 'open-session'
      ) AS entries
        ON entries.session = sessions.id AND entries.seq = sessions.opened_seq AND entries.practice = sessions.practice
      WHERE sessions.id IS NULL OR entries.session IS NULL LIMIT 20`)
    .all();
  return rows.map((row) =>
    row.id === null
      ? `session ${row.session}, opened by entry ${row.seq}, is not in the list of sessions`
      : `the list of sessions has ${row.id}, which entry ${row.opened_seq} does not open as it says`,
  );
}
