import { z } from 'zod';
import {
  CHAIN_START,
  canonicalJson,
  type Entry,
  type EntryBody,
  entrySchema,
  hashOf,
} from '../../core/ledger/entry.ts';
import type { Author } from '../../core/procedure/person.ts';
import type { Moment } from '../../core/time/moment.ts';
import type { Connection } from './open-database.ts';
import { sha256 } from './sha256.ts';

/** What is to be written down: everything but its place in the chain. */
export interface Draft {
  readonly sessionId: string | null;
  readonly kind: string;
  readonly payload: Entry['payload'];
  readonly at: Moment;
  readonly by: Author;
  readonly commandId: string | null;
}

/** The last entry, as far as what follows it has to know. */
export interface Head {
  readonly seq: number;
  readonly hash: string;
  readonly wallMs: number;
  readonly offsetMin: number;
  readonly continuousMs: number;
}

/** What can be asked of a ledger. */
export interface LedgerReads {
  /** The entry a command became, when it was carried out before. */
  entryOfCommand(commandId: string): Entry | null;
  entriesOf(sessionId: string, afterSeq?: number, limit?: number): Entry[];
  openSessions(): string[];
  /** The last entry of a kind; meant for the few that concern the station. */
  lastOfKind(kind: string): Entry | null;
  /** Every entry of such a kind, oldest first. */
  allOfKind(kind: string): Entry[];
  hasSession(sessionId: string): boolean;
  last(): Head | null;
  /** The file's own identity, from its first entry; null where that cannot be read. */
  fileId(): string | null;
  /** The last entry that says how long the machine had slept by then. */
  lastOfSleep(): Entry | null;
  /** The last entry of a boot of the machine, whatever it is about. */
  lastOfBoot(boot: string): Head | null;
}

/** The one writer of the file. An entry is on disk when `insert` returns. */
export interface LedgerStore extends LedgerReads {
  /** @throws SqliteError where the file does not take it; nothing is half-written. */
  insert(entry: Entry): void;
  /** The hash of the entry at a place, also of one that can no longer be read. */
  hashAt(seq: number): string | null;
  /** Entries from a sequence on. */
  range(fromSeq: number, limit: number): Entry[];
  close(): void;
}

export interface Row {
  seq: number;
  session: string | null;
  kind: string;
  payload: string;
  wall_ms: number;
  offset_min: number;
  continuous_ms: number;
  boot: string;
  author: string;
  role: string;
  command_id: string | null;
  prev_hash: string;
  hash: string;
}

export const entryOf = (row: Row): Entry =>
  entrySchema.parse({
    seq: row.seq,
    sessionId: row.session,
    kind: row.kind,
    payload: JSON.parse(row.payload),
    wallMs: row.wall_ms,
    offsetMin: row.offset_min,
    continuousMs: row.continuous_ms,
    boot: row.boot,
    author: { initials: row.author, role: row.role },
    commandId: row.command_id,
    prevHash: row.prev_hash,
    hash: row.hash,
  });

export function ledgerStore(db: Connection): LedgerStore {
  const insertEntry = db.prepare(`
    INSERT INTO entries VALUES (@seq, @session, @kind, @payload, @wall_ms, @offset_min, @continuous_ms, @boot, @author,
      @role, @command_id, @prev_hash, @hash)`);
  const insertSession = db.prepare('INSERT INTO sessions VALUES (@id, @seq, @practice)');
  const lastEntry = db.prepare<[], Row>('SELECT * FROM entries ORDER BY seq DESC LIMIT 1');
  const lastEntryOfBoot = db.prepare<[string], Row>('SELECT * FROM entries WHERE boot = ? ORDER BY seq DESC LIMIT 1');
  const byCommand = db.prepare<[string], Row>('SELECT * FROM entries WHERE command_id = ?');
  const ofKind = db.prepare<[string], Row>(
    'SELECT * FROM entries WHERE session IS NULL AND kind = ? ORDER BY seq DESC LIMIT 1',
  );
  const everyOfKind = db.prepare<[string], Row>(
    'SELECT * FROM entries WHERE session IS NULL AND kind = ? ORDER BY seq',
  );
  const ofSleep = db.prepare<[], Row>(
    "SELECT * FROM entries WHERE kind IN ('station-started', 'slept') ORDER BY seq DESC LIMIT 1",
  );
  const bySession = db.prepare<[string, number, number], Row>(
    'SELECT * FROM entries WHERE session = ? AND seq > ? ORDER BY seq LIMIT ?',
  );
  const fromSequence = db.prepare<[number, number], Row>('SELECT * FROM entries WHERE seq >= ? ORDER BY seq LIMIT ?');
  const hashOfSequence = db.prepare<[number], { hash: string }>('SELECT hash FROM entries WHERE seq = ?');
  const oneSession = db.prepare<[string], { id: string }>('SELECT id FROM sessions WHERE id = ?');
  const notEnded = db.prepare<[], { id: string }>(`
    SELECT id FROM sessions
    WHERE NOT EXISTS (SELECT 1 FROM entries WHERE session = sessions.id AND kind = 'discharge')
    ORDER BY opened_seq`);

  const write = db.transaction((entry: Entry): void => {
    if (entry.kind === 'open-session') {
      insertSession.run({ id: entry.sessionId, seq: entry.seq, practice: entry.payload.practice === true ? 1 : 0 });
    }
    insertEntry.run(rowOf(entry));
  });

  return {
    insert: (entry) => write.immediate(entry),
    hashAt: (seq) => hashOfSequence.get(seq)?.hash ?? null,
    range: (fromSeq, limit) => fromSequence.all(fromSeq, limit).map(entryOf),
    entryOfCommand: (commandId) => {
      const row = byCommand.get(commandId);
      return row === undefined ? null : entryOf(row);
    },
    entriesOf: (sessionId, afterSeq = 0, limit = -1) => bySession.all(sessionId, afterSeq, limit).map(entryOf),
    lastOfKind: (kind) => {
      const row = ofKind.get(kind);
      return row === undefined ? null : entryOf(row);
    },
    allOfKind: (kind) => everyOfKind.all(kind).map(entryOf),
    lastOfSleep: () => {
      const row = ofSleep.get();
      return row === undefined ? null : entryOf(row);
    },
    openSessions: () => notEnded.all().map((row) => row.id),
    hasSession: (sessionId) => oneSession.get(sessionId) !== undefined,
    last: () => headOf(lastEntry.get()),
    lastOfBoot: (boot) => headOf(lastEntryOfBoot.get(boot)),
    fileId: () => fileIdOf(fromSequence.all(1, 1)[0]?.payload),
    close: () => db.close(),
  };
}

const firstPayloadSchema = z.object({ file: z.uuid() });

function fileIdOf(payload: string | undefined): string | null {
  try {
    return firstPayloadSchema.parse(JSON.parse(payload ?? '')).file;
  } catch {
    return null;
  }
}

/** The entry that a draft becomes after `before`. */
export function following(draft: Draft, before: Pick<Head, 'seq' | 'hash'> | null): Entry {
  const body: EntryBody = {
    seq: (before?.seq ?? 0) + 1,
    sessionId: draft.sessionId,
    kind: draft.kind,
    payload: draft.payload,
    wallMs: draft.at.wallMs,
    offsetMin: draft.at.offsetMin,
    continuousMs: draft.at.continuousMs,
    boot: draft.at.boot,
    author: draft.by,
    commandId: draft.commandId,
    prevHash: before?.hash ?? CHAIN_START,
  };
  return entrySchema.parse({ ...body, hash: hashOf(body, sha256) });
}

/** Also of an entry that can no longer be read: what follows it needs only its place and its hash. */
const headOf = (row: Row | undefined): Head | null =>
  row === undefined
    ? null
    : {
        seq: row.seq,
        hash: row.hash,
        wallMs: row.wall_ms,
        offsetMin: row.offset_min,
        continuousMs: row.continuous_ms,
      };

const rowOf = (entry: Entry): Row => ({
  seq: entry.seq,
  session: entry.sessionId,
  kind: entry.kind,
  payload: canonicalJson(entry.payload),
  wall_ms: entry.wallMs,
  offset_min: entry.offsetMin,
  continuous_ms: entry.continuousMs,
  boot: entry.boot,
  author: entry.author.initials,
  role: entry.author.role,
  command_id: entry.commandId,
  prev_hash: entry.prevHash,
  hash: entry.hash,
});
