import Database from 'better-sqlite3';
import type { Entry } from '../../core/ledger/entry.ts';
import type { EmergencyFile } from './emergency-file.ts';
import { type Draft, following, type LedgerReads, type LedgerStore } from './ledger.ts';

/** What is not in the ledger's file yet, and why. */
export interface NotYetSafe {
  readonly entries: number;
  readonly sinceWallMs: number;
  readonly why: string;
  /** Where they are kept meanwhile; null where no disk takes them and only memory has them. */
  readonly keptAt: string | null;
}

/**
 * A ledger that goes on while its disk does not: entries wait in memory and in an emergency file elsewhere, in their
 * order and already chained, and land when the disk is back.
 */
export interface Ledger extends LedgerReads {
  /**
   * Writes an entry down. Safe when it returns, unless `notYetSafe` says otherwise.
   *
   * @throws Error where an entry by a person could be kept nowhere but in memory: the step is then not taken.
   */
  append(draft: Draft): Entry;
  /** Tries to land what waits. Returns how many entries landed. */
  retry(): number;
  notYetSafe(): NotYetSafe | null;
  close(): void;
}

export function steadfastLedger(store: LedgerStore, emergency: EmergencyFile): Ledger {
  const waiting: Entry[] = [];
  /** Known here, since a disk that refuses writes may refuse reads too. */
  let head = store.last();
  let why = '';
  let onDisk = true;

  function append(draft: Draft): Entry {
    const entry = following(draft, head);
    if (waiting.length > 0) retry();
    if (waiting.length > 0 || !landed(entry)) {
      keepElsewhere(entry);
      waiting.push(entry);
    }
    head = entry;
    return entry;
  }

  function landed(entry: Entry): boolean {
    try {
      store.insert(entry);
      return true;
    } catch (error) {
      if (!isRefusal(error)) throw error;
      why = plainly(error);
      return false;
    }
  }

  function keepElsewhere(entry: Entry): void {
    try {
      emergency.keep(entry);
    } catch (error) {
      if (entry.author.role !== 'station') throw error;
      onDisk = false;
    }
  }

  function retry(): number {
    let count = 0;
    for (let next = waiting[0]; next !== undefined && landed(next); next = waiting[0]) {
      waiting.shift();
      count += 1;
    }
    if (count > 0 && waiting.length === 0) {
      emergency.clear();
      onDisk = true;
    }
    return count;
  }

  const waitingOf = (sessionId: string | null): Entry[] => waiting.filter((entry) => entry.sessionId === sessionId);
  const opening = (): Entry[] => waiting.filter((entry) => entry.kind === 'open-session');

  return {
    append,
    retry,
    notYetSafe: () => {
      const [first] = waiting;
      if (first === undefined) return null;
      return { entries: waiting.length, sinceWallMs: first.wallMs, why, keptAt: onDisk ? emergency.path : null };
    },
    entryOfCommand: (commandId) =>
      waiting.find((entry) => entry.commandId === commandId) ?? store.entryOfCommand(commandId),
    entriesOf: (sessionId, afterSeq = 0, limit = -1) => {
      const stored = store.entriesOf(sessionId, afterSeq, limit);
      const all = [...stored, ...waitingOf(sessionId).filter((entry) => entry.seq > afterSeq)];
      return limit < 0 ? all : all.slice(0, limit);
    },
    openSessions: () => {
      const ended = new Set(waiting.filter((entry) => entry.kind === 'discharge').map((entry) => entry.sessionId));
      const fresh = opening().flatMap((entry) => (entry.sessionId === null ? [] : [entry.sessionId]));
      return [...store.openSessions(), ...fresh].filter((sessionId) => !ended.has(sessionId));
    },
    lastOfKind: (kind) => waitingOf(null).findLast((entry) => entry.kind === kind) ?? store.lastOfKind(kind),
    hasSession: (sessionId) => opening().some((entry) => entry.sessionId === sessionId) || store.hasSession(sessionId),
    sessions: (before, limit) => {
      const fresh = opening()
        .filter((entry) => before === null || entry.seq < before)
        .map((entry) => ({
          sessionId: entry.sessionId ?? '',
          firstSeq: entry.seq,
          practice: entry.payload.practice === true,
        }))
        .reverse();
      return [...fresh, ...store.sessions(before, limit)].slice(0, limit);
    },
    last: () => head,
    close: () => store.close(),
  };
}

/** What an earlier station could not land. Returns what could not be landed now either, with the reason. */
export function landLeft(store: LedgerStore, emergency: EmergencyFile): { landed: number; trouble: string | null } {
  const left = emergency.left();
  let landed = 0;
  for (const entry of left) {
    const head = store.last();
    if (head !== null && entry.seq <= head.seq) continue;
    if (entry.seq !== (head?.seq ?? 0) + 1 || entry.prevHash !== head?.hash) {
      const aside = emergency.setAside(`entry-${entry.seq}`);
      return {
        landed,
        trouble: `entries kept in an emergency do not follow this ledger; they are set aside in ${aside}`,
      };
    }
    store.insert(entry);
    landed += 1;
  }
  emergency.clear();
  return { landed, trouble: null };
}

/** The disk, or who else has the file, does not let it be written; not that the entry itself is wrong. */
const REFUSALS = [
  'SQLITE_FULL',
  'SQLITE_READONLY',
  'SQLITE_BUSY',
  'SQLITE_LOCKED',
  'SQLITE_IOERR',
  'SQLITE_CANTOPEN',
  'SQLITE_CORRUPT',
  'SQLITE_NOTADB',
  'SQLITE_PERM',
];

type SqliteError = InstanceType<typeof Database.SqliteError>;

function isRefusal(error: unknown): error is SqliteError {
  return error instanceof Database.SqliteError && REFUSALS.some((code) => error.code.startsWith(code));
}

const PLAIN: readonly (readonly [code: string, words: string])[] = [
  ['SQLITE_FULL', 'the disk is full: make room'],
  ['SQLITE_READONLY', 'the ledger cannot be written to: look at its permissions and its disk'],
  ['SQLITE_BUSY', 'another program has locked the ledger: close it'],
  ['SQLITE_LOCKED', 'another program has locked the ledger: close it'],
  ['SQLITE_CORRUPT', 'the ledger is damaged: finish this session, then start anew; the file is kept'],
  ['SQLITE_NOTADB', 'the ledger is damaged: finish this session, then start anew; the file is kept'],
];

function plainly(error: SqliteError): string {
  const known = PLAIN.find(([code]) => error.code.startsWith(code));
  return known?.[1] ?? `the disk does not take it (${error.code}): look at the disk`;
}
