import { existsSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { Entry } from '../../core/ledger/entry.ts';
import { entryOf, type Row } from './ledger.ts';

/**
 * Every entry of a ledger file, in order, by a connection of its own that cannot write.
 *
 * @throws Error where the file is not there or cannot be read.
 */
export function readEntries(file: string): Entry[] {
  if (!existsSync(file)) throw new Error(`there is no file ${file}`);
  const db = new Database(file, { readonly: true });
  try {
    return db.prepare<[], Row>('SELECT * FROM entries ORDER BY seq').all().map(entryOf);
  } finally {
    db.close();
  }
}
