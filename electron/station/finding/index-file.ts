import { rmSync } from 'node:fs';
import Database from 'better-sqlite3';
import { MEASURES_VERSION } from '../../../core/ledger/measures.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import { isDamage } from '../open-database.ts';
import { INDEX_TABLES } from './index-tables.ts';
import type { LedgerIdentity, LedgerReader } from './ledger-reader.ts';

/** Marks the file as an index of ours. "DIMF" in ASCII. */
const APPLICATION_ID = 0x44494d46;
/** Of the tables, and of how a session is kept in them: raised whenever either changes. */
const INDEX_VERSION = 1;

/** The index lies beside its ledger: `ledger.sqlite3` has `ledger.finding.sqlite3`. */
export const indexFileOf = (ledgerFile: string): string => ledgerFile.replace(/(\.sqlite3)?$/, '.finding.sqlite3');

/**
 * Opens a ledger's index. One that is damaged, of another ledger, of a ledger that was other or longer than this one
 * is now, or kept another way than this version keeps it, is thrown away and begun anew: the ledger has all it says.
 */
export function openIndex(file: string, ledger: LedgerReader, identity: LedgerIdentity, limits: Limits): IndexFile {
  const kept = unlessDamaged(() => keptIndex(file, ledger, identity));
  const db = kept ?? newIndex(file, ledger, identity);
  readBy(db, limits);
  return db;
}

export type IndexFile = Database.Database;

/** How far an index has come: all sessions opened at or after `backToSeq` are in it, as they stood at `uptoSeq`. */
export interface About {
  readonly uptoSeq: number;
  readonly uptoHash: string;
  readonly backToSeq: number;
  /** The number of the limits that deviations are read by; raised with each change of them. */
  readonly limitsNumber: number;
}

interface AboutRow {
  readonly file_id: string;
  readonly first_hash: string;
  readonly measures_version: number;
  readonly upto_seq: number;
  readonly upto_hash: string;
  readonly back_to_seq: number;
  readonly limits: string;
  readonly limits_number: number;
}

export function aboutOf(db: IndexFile): About {
  const row = aboutRow(db);
  if (row === undefined) throw new Error('the index does not say what it is of');
  return {
    uptoSeq: row.upto_seq,
    uptoHash: row.upto_hash,
    backToSeq: row.back_to_seq,
    limitsNumber: row.limits_number,
  };
}

const aboutRow = (db: IndexFile): AboutRow | undefined => db.prepare<[], AboutRow>('SELECT * FROM about').get();

/** Removes an index with SQLite's own files beside it. */
export function throwAway(file: string): void {
  for (const name of [file, `${file}-wal`, `${file}-shm`, `${file}-journal`]) rmSync(name, { force: true });
}

function keptIndex(file: string, ledger: LedgerReader, identity: LedgerIdentity): IndexFile | null {
  const db = opened(file);
  try {
    if (isOf(db, ledger, identity)) return db;
  } catch (error) {
    db.close();
    throw error;
  }
  db.close();
  return null;
}

function isOf(db: IndexFile, ledger: LedgerReader, { fileId, firstHash }: LedgerIdentity): boolean {
  if (db.pragma('application_id', { simple: true }) !== APPLICATION_ID) return false;
  if (db.pragma('user_version', { simple: true }) !== INDEX_VERSION) return false;
  if (db.pragma('quick_check(1)', { simple: true }) !== 'ok') return false;
  const about = aboutRow(db);
  return (
    about !== undefined &&
    about.measures_version === MEASURES_VERSION &&
    about.file_id === fileId &&
    about.first_hash === firstHash &&
    ledger.hashAt(about.upto_seq) === about.upto_hash
  );
}

function newIndex(file: string, ledger: LedgerReader, { fileId, firstHash }: LedgerIdentity): IndexFile {
  throwAway(file);
  const db = opened(file);
  const head = ledger.head();
  db.transaction(() => {
    db.exec(INDEX_TABLES);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    db.pragma(`user_version = ${INDEX_VERSION}`);
    db.prepare('INSERT INTO about VALUES (1, ?, ?, ?, ?, ?, ?, ?, ?)').run(
      fileId,
      firstHash,
      MEASURES_VERSION,
      head.seq,
      head.hash,
      head.seq + 1,
      '',
      0,
    );
  })();
  return db;
}

/** What was read by other limits is read again; a session keeps the number of the limits it was read by. */
function readBy(db: IndexFile, limits: Limits): void {
  const now = JSON.stringify(limits);
  db.prepare('UPDATE about SET limits = ?, limits_number = limits_number + 1 WHERE limits <> ?').run(now, now);
}

/** All of it can be made again, so nothing waits for the disk; but a power cut must not leave it half-written. */
function opened(file: string): IndexFile {
  const db = new Database(file, { timeout: 2000 });
  try {
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = NORMAL');
    db.pragma('trusted_schema = OFF');
    db.pragma('cell_size_check = ON');
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function unlessDamaged(open: () => IndexFile | null): IndexFile | null {
  try {
    return open();
  } catch (error) {
    if (isUnusable(error)) return null;
    throw error;
  }
}

/** Something in the index is not what this version keeps there. */
export class NotAsKept extends Error {}

/** The file is damaged, or its mark is right and what is in it is not. */
export const isUnusable = (error: unknown): boolean =>
  isDamage(error) ||
  error instanceof NotAsKept ||
  (error instanceof Database.SqliteError && error.code === 'SQLITE_ERROR' && error.message.startsWith('no such'));
