import Database from 'better-sqlite3';
import { chainBreak, type Entry } from '../../core/ledger/entry.ts';
import { fileIdIn } from '../../core/ledger/verify.ts';
import type { EmergencyFile } from './emergency-file.ts';
import { type Draft, following, type Head, type LedgerReads, type LedgerStore } from './ledger.ts';
import { sha256 } from './sha256.ts';

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
  /** Tries to land what waits. Returns how many entries have landed since this was last asked. */
  retry(): number;
  notYetSafe(): NotYetSafe | null;
  close(): void;
}

/** `left` is what an earlier station kept elsewhere and this ledger does not have yet. */
export function steadfastLedger(store: LedgerStore, emergency: EmergencyFile, left: readonly Entry[] = []): Ledger {
  /** In their order. The first `kept` of them are in the emergency file, the others in memory alone. */
  const waiting: Entry[] = [...left];
  let kept = left.length;
  /** Known here, since a disk that refuses writes may refuse reads too. */
  let head: Head | null = left.at(-1) ?? store.last();
  const ofCommand = new Map<string, Entry>();
  let why = '';
  let landedSinceAsked = 0;

  function append(draft: Draft): Entry {
    const entry = following(draft, head);
    if (waiting.length > 0) land();
    if (waiting.length > 0 || !landed(entry)) wait(entry);
    head = entry;
    if (entry.commandId !== null) ofCommand.set(entry.commandId, entry);
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

  function wait(entry: Entry): void {
    try {
      for (const one of [...waiting.slice(kept), entry]) {
        emergency.keep(one);
        kept += 1;
      }
    } catch (error) {
      if (entry.author.role !== 'station') throw nowhere(error);
    }
    waiting.push(entry);
  }

  function nowhere(error: unknown): Error {
    const says = error instanceof Error ? error.message : String(error);
    return new Error(`${why}; and ${emergency.path} does not take it either (${says})`);
  }

  function land(): void {
    for (let next = waiting[0]; next !== undefined && landed(next); next = waiting[0]) {
      waiting.shift();
      kept = Math.max(0, kept - 1);
      landedSinceAsked += 1;
    }
    if (waiting.length === 0) clear(emergency);
  }

  function retry(): number {
    if (waiting.length > 0) land();
    const count = landedSinceAsked;
    landedSinceAsked = 0;
    return count;
  }

  let identity: string | null = null;

  /** Read once, and not from a disk that refuses: what waits may hold the first entry. */
  function fileId(): string | null {
    const [first] = waiting;
    const waits = first?.seq === 1 ? fileIdIn(first) : null;
    if (waits !== null) return waits;
    try {
      identity ??= store.fileId();
    } catch (error) {
      if (!isRefusal(error)) throw error;
    }
    return identity;
  }

  const waitingOf = (sessionId: string | null): Entry[] => waiting.filter((entry) => entry.sessionId === sessionId);
  const opening = (): Entry[] => waiting.filter((entry) => entry.kind === 'open-session');

  return {
    append,
    retry,
    notYetSafe: () => {
      const [first] = waiting;
      if (first === undefined) return null;
      const keptAt = kept === waiting.length ? emergency.path : null;
      return { entries: waiting.length, sinceWallMs: first.wallMs, why, keptAt };
    },
    entryOfCommand: (commandId) =>
      ofCommand.get(commandId) ??
      waiting.find((entry) => entry.commandId === commandId) ??
      unlessRefused(() => store.entryOfCommand(commandId)),
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
    allOfKind: (kind) => [...store.allOfKind(kind), ...waitingOf(null).filter((entry) => entry.kind === kind)],
    lastOfSleep: () =>
      waiting.findLast(({ kind }) => kind === 'station-started' || kind === 'slept') ?? store.lastOfSleep(),
    lastOfBoot: (boot) => waiting.findLast((entry) => entry.boot === boot) ?? store.lastOfBoot(boot),
    hasSession: (sessionId) => opening().some((entry) => entry.sessionId === sessionId) || store.hasSession(sessionId),
    last: () => head,
    fileId,
    close: () => store.close(),
  };
}

/** What an earlier station could not land, where it follows this ledger; else it is set aside, and that is said. */
export function leftToLand(store: LedgerStore, emergency: EmergencyFile): { left: Entry[]; trouble: string | null } {
  const head = store.last();
  const all = emergency.left();
  const left = all.filter((entry) => entry.seq > (head?.seq ?? 0));
  const here = all.filter((entry) => !left.includes(entry));
  const known = here.every((entry) => store.hashAt(entry.seq) === entry.hash);
  if (known && chainBreak(left, sha256, head ?? undefined) === null) {
    if (left.length === 0) clear(emergency);
    return { left, trouble: null };
  }
  const aside = emergency.setAside(`entry-${all[0]?.seq}`);
  return {
    left: [],
    trouble: `entries kept in an emergency do not follow this ledger; they are set aside in ${aside}`,
  };
}

/** A file that stays is no harm: the ledger has what it says. */
function clear(emergency: EmergencyFile): void {
  try {
    emergency.clear();
  } catch (error) {
    console.error(
      `station: ${emergency.path} is not needed any more: ${error instanceof Error ? error.message : error}`,
    );
  }
}

/** A disk that does not answer does not stop a step; what this station entered itself is known without it. */
function unlessRefused(read: () => Entry | null): Entry | null {
  try {
    return read();
  } catch (error) {
    if (isRefusal(error)) return null;
    throw error;
  }
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
  'SQLITE_PROTOCOL',
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
