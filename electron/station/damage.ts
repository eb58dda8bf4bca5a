import { existsSync, statSync } from 'node:fs';
import Database from 'better-sqlite3';
import { isDamage } from './open-database.ts';

/** A larger file takes too long to look through while a patient waits: it is read in the background. */
const LOOKED_THROUGH_BYTES = 64 * 1024 * 1024;

/** The last entries and the list of sessions: what a start needs whatever the size of the file. */
const NEEDED = ['SELECT * FROM sessions', 'SELECT * FROM entries ORDER BY seq DESC LIMIT 2000'];

/** Whether SQLite can make sense of a file. Looks by a connection that cannot write. What is not there is not damaged. */
export function isDamaged(file: string): boolean {
  if (!existsSync(file)) return false;
  try {
    const db = new Database(file, { readonly: true, fileMustExist: true });
    try {
      return statSync(file).size <= LOOKED_THROUGH_BYTES ? hasBrokenPages(db) : !isReadable(db);
    } finally {
      db.close();
    }
  } catch (error) {
    return isDamage(error);
  }
}

/** Pages alone: a value that should not be there is for the chain to show, and no reason to begin a new file. */
function hasBrokenPages(db: Database.Database): boolean {
  const said = db.pragma('quick_check(20)') as { quick_check: string }[];
  return said.some((row) => /\b(tree|page|freelist)\b/i.test(row.quick_check));
}

function isReadable(db: Database.Database): boolean {
  const tables = db.prepare('SELECT count(*) FROM sqlite_schema').pluck().get();
  if (tables !== 0) for (const sql of NEEDED) db.prepare(sql).all();
  return true;
}
