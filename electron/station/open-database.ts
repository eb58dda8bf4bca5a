import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { platform } from 'node:os';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { MIGRATIONS } from './migrations/index.ts';

export type Connection = Database.Database;

/** Marks a file as ours, so that another program's database is not taken for a ledger. "DIMR" in ASCII. */
export const APPLICATION_ID = 0x44494d52;

/** What is set at every open, and what must be read back: some of it falls back when a file is opened again. */
const SETTINGS: readonly (readonly [name: string, set: string, readBack: string | number])[] = [
  ['journal_mode', 'WAL', 'wal'],
  ['synchronous', 'FULL', 2],
  ['foreign_keys', 'ON', 1],
  ['recursive_triggers', 'ON', 1],
  ['trusted_schema', 'OFF', 0],
  ['cell_size_check', 'ON', 1],
  ...(platform() === 'darwin'
    ? ([
        ['fullfsync', 'ON', 1],
        ['checkpoint_fullfsync', 'ON', 1],
      ] as const)
    : []),
];

/** An entry that waits longer than this for another program's lock is kept elsewhere instead. */
const BUSY_MS = 100;

/** The ledger's file is damaged. It is never written to or removed. */
export class DatabaseDamaged extends Error {}

/** The ledger's file cannot be used as it is. The message says what to do. */
export class DatabaseRefused extends Error {}

/**
 * Opens the ledger's file, makes it when it is not there, brings it up to the present schema.
 *
 * @throws DatabaseRefused where a durability setting does not hold, or the file is another program's or a newer one's.
 * @throws DatabaseDamaged where SQLite cannot make sense of it.
 */
export function openDatabase(file: string): Connection {
  mkdirSync(dirname(file), { recursive: true });
  const db = connectionTo(file);
  // While it is being opened, a station that ends may still hold it; afterwards nobody waits for a disk.
  try {
    const applicationId = db.pragma('application_id', { simple: true });
    const blank = db.prepare('SELECT count(*) AS n FROM sqlite_schema').pluck().get() === 0;
    if (!blank && applicationId !== APPLICATION_ID) throw notALedger(file);
    applySettings(db, file);
    if (blank) db.pragma(`application_id = ${APPLICATION_ID}`);
    migrate(db, file);
    db.pragma(`busy_timeout = ${BUSY_MS}`);
    return db;
  } catch (error) {
    db.close();
    throw refusalOf(error, file);
  }
}

function connectionTo(file: string): Connection {
  try {
    return new Database(file, { timeout: 2000 });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new DatabaseRefused(`${file} cannot be opened: choose another data folder. ${why}`);
  }
}

function refusalOf(error: unknown, file: string): unknown {
  if (!(error instanceof Database.SqliteError)) return error;
  if (isDamage(error)) return new DatabaseDamaged(`${file} is damaged (${error.code})`);
  return new DatabaseRefused(`${file} cannot be written to: look at its disk and its permissions. ${error.message}`);
}

/** SQLite cannot make sense of the file. */
export const isDamage = (error: unknown): boolean =>
  error instanceof Database.SqliteError && (error.code === 'SQLITE_NOTADB' || error.code.startsWith('SQLITE_CORRUPT'));

const notALedger = (file: string): DatabaseRefused =>
  new DatabaseRefused(`${file} is not a Dimroom ledger: choose another data folder`);

function applySettings(db: Connection, file: string): void {
  for (const [name, value, wanted] of SETTINGS) {
    db.pragma(`${name} = ${value}`);
    const held = db.pragma(name, { simple: true });
    if (held !== wanted) {
      throw new DatabaseRefused(
        `${file} cannot be written safely: ${name} is ${held}, not ${wanted}. Use a folder on a disk of this machine`,
      );
    }
  }
}

/** Before a ledger is brought up to a newer schema, one copy of it stays beside it, whole and in its own. */
function keepAsItWas(db: Connection, file: string, version: number): void {
  const copy = asItWas(file, version);
  if (existsSync(copy)) return;
  const aside = `${copy}.partial`;
  rmSync(aside, { force: true });
  db.prepare('VACUUM INTO ?').run(aside);
  renameSync(aside, copy);
}

/** Where the copy of a ledger from before an upgrade is kept. */
export const asItWas = (file: string, version: number): string => `${file}.schema-${version}`;

function migrate(db: Connection, file: string): void {
  const version = Number(db.pragma('user_version', { simple: true }));
  if (version > MIGRATIONS.length) {
    throw new DatabaseRefused(`${file} was written by a newer Dimroom: start that version`);
  }
  if (version > 0 && version < MIGRATIONS.length) keepAsItWas(db, file, version);
  MIGRATIONS.slice(version).forEach((migration, index) => {
    db.transaction(() => {
      db.exec(migration);
      db.pragma(`user_version = ${version + index + 1}`);
    }).immediate();
  });
}
