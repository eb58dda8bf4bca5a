import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { DatabaseRefused } from './open-database.ts';

/**
 * Holds the data folder for this process: two clocks in one ledger would contradict each other. The operating system
 * lets go of it however the process ends, so nothing is left behind to clear away.
 *
 * @throws DatabaseRefused while another station holds the folder, and where it cannot be written to.
 */
export function holdFolder(folder: string): { release(): void } {
  const db = openIn(folder);
  try {
    db.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    db.close();
    const busy = error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY');
    if (!busy) throw unusable(folder, error);
    throw new DatabaseRefused(`${folder} is in use by another Dimroom: close that one, or choose another data folder`);
  }
  return { release: () => db.close() };
}

function openIn(folder: string): Database.Database {
  try {
    mkdirSync(folder, { recursive: true });
    return new Database(join(folder, 'in-use'), { timeout: 3000 });
  } catch (error) {
    throw unusable(folder, error);
  }
}

function unusable(folder: string, error: unknown): DatabaseRefused {
  const why = error instanceof Error ? error.message : String(error);
  return new DatabaseRefused(`${folder} cannot be used as a data folder: choose another one. ${why}`);
}
