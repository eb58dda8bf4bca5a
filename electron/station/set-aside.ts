import { existsSync, mkdirSync, renameSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Entry } from '../../core/ledger/entry.ts';
import { readLedgerFile } from './read-file.ts';

/** A damaged ledger that was set aside, and as much of it as can be said. */
export interface SetAside {
  readonly folder: string;
  /** The last entry that could still be read; null where none could. Nothing is claimed of what came after it. */
  readonly lastReadable: { readonly seq: number; readonly hash: string } | null;
}

/** Moves a damaged ledger, with SQLite's own files beside it, into a folder of its own: all together, untouched. */
export function setAside(file: string, stamp: string): SetAside {
  const folder = join(dirname(file), `damaged-${stamp}`);
  mkdirSync(folder);
  for (const name of [file, `${file}-wal`, `${file}-shm`]) {
    if (existsSync(name)) renameSync(name, join(folder, basename(name)));
  }
  return { folder, lastReadable: lastReadable(join(folder, basename(file))) };
}

function lastReadable(file: string): SetAside['lastReadable'] {
  let last: Entry | null = null;
  try {
    const ledger = readLedgerFile(file);
    try {
      for (const entry of ledger.entries()) last = entry;
    } finally {
      ledger.close();
    }
  } catch {
    // What cannot be read is not known; what was read before it still is.
  }
  return last === null ? null : { seq: last.seq, hash: last.hash };
}
