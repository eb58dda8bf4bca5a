import { join } from 'node:path';
import type { Entry } from '../../core/ledger/entry.ts';
import { chainBreak } from '../../core/ledger/entry.ts';
import { isDamaged } from './damage.ts';
import { emergencyFile } from './emergency-file.ts';
import { type LedgerStore, ledgerStore } from './ledger.ts';
import { type Connection, DatabaseDamaged, openDatabase } from './open-database.ts';
import { type SetAside, setAside } from './set-aside.ts';
import { sha256 } from './sha256.ts';
import { type Ledger, leftToLand, steadfastLedger } from './steadfast-ledger.ts';

/** A ledger ready to be written to, and what was found on the way. */
export interface OpenedLedger {
  readonly ledger: Ledger;
  /** For copying only: nothing else reads or writes by it. */
  readonly connection: Connection;
  readonly database: string;
  readonly damaged: SetAside | null;
  /** Entries of an earlier station that waited in the emergency file and are in the ledger now. */
  readonly landed: number;
  readonly trouble: readonly string[];
}

/** Looked at before a session may go on; the rest of a long ledger is read in the background. */
const RECENT_ENTRIES = 2000;

/**
 * Opens the ledger in a folder. A damaged one is set aside untouched and a new one begun; what an earlier station had
 * to keep elsewhere is landed, or goes on waiting; the recent part of the chain is checked.
 *
 * @throws DatabaseRefused where the file is somebody else's.
 */
export function openLedger(folder: string, fileName: string, emergencyFolder: string, stamp: string): OpenedLedger {
  const database = join(folder, fileName);
  const { connection, damaged } = connectionTo(database, stamp);
  const store = ledgerStore(connection);
  const emergency = emergencyFile(join(emergencyFolder, `${sha256(database).slice(0, 16)}.jsonl`));
  const { left, trouble } = leftToLand(store, emergency);
  const broken = recentBreak(store);
  const ledger = steadfastLedger(store, emergency, left);
  const landed = ledger.retry();
  return {
    ledger,
    connection,
    database,
    damaged,
    landed,
    trouble: [
      ...(trouble === null ? [] : [trouble]),
      ...(broken === null ? [] : [`the ledger's chain does not hold: ${broken}`]),
    ],
  };
}

/** Looked at first by a connection that cannot write: to open a damaged file for writing may change it. */
function connectionTo(database: string, stamp: string): { connection: Connection; damaged: SetAside | null } {
  if (isDamaged(database)) {
    const damaged = setAside(database, stamp);
    return { connection: openDatabase(database), damaged };
  }
  try {
    return { connection: openDatabase(database), damaged: null };
  } catch (error) {
    if (!(error instanceof DatabaseDamaged)) throw error;
    const damaged = setAside(database, stamp);
    return { connection: openDatabase(database), damaged };
  }
}

function recentBreak(store: LedgerStore): string | null {
  try {
    return chainBreak(recent(store), sha256, beforeRecent(store));
  } catch (error) {
    return error instanceof Error ? error.message.replace(/\s+/g, ' ') : String(error);
  }
}

const firstRecent = (store: LedgerStore): number => Math.max(1, (store.last()?.seq ?? 0) - RECENT_ENTRIES + 1);

const recent = (store: LedgerStore): Entry[] => store.range(firstRecent(store), RECENT_ENTRIES);

function beforeRecent(store: LedgerStore): { seq: number; hash: string } | undefined {
  const seq = firstRecent(store) - 1;
  const [entry] = seq === 0 ? [] : store.range(seq, 1);
  return entry === undefined ? undefined : { seq, hash: entry.hash };
}
