import { createHash } from 'node:crypto';
import { DatabaseSync } from 'node:sqlite';
import { canonicalize } from 'json-canonicalize';

/**
 * The ledger's file as somebody else reads it: with Node's own SQLite, plain SQL, and another implementation of
 * canonical JSON. Nothing of the code under test is used here.
 */
export interface FoundEntry {
  readonly seq: number;
  readonly sessionId: string | null;
  readonly kind: string;
  readonly payload: Record<string, unknown>;
  readonly wallMs: number;
  readonly offsetMin: number;
  readonly continuousMs: number;
  readonly boot: string;
  readonly author: { readonly initials: string; readonly role: string };
  readonly commandId: string | null;
  readonly prevHash: string;
  readonly hash: string;
}

type Columns = Record<string, string | number | null>;

/** Reads every entry by a connection of its own that cannot write. */
export function entriesIn(file: string): FoundEntry[] {
  return reading(file, (db) => db.prepare('SELECT * FROM entries ORDER BY seq').all() as Columns[]).map(found);
}

export function kindsIn(file: string, sessionId?: string): string[] {
  return entriesIn(file)
    .filter((entry) => sessionId === undefined || entry.sessionId === sessionId)
    .map((entry) => entry.kind);
}

export function reading<T>(file: string, read: (db: DatabaseSync) => T): T {
  const db = new DatabaseSync(file, { readOnly: true });
  try {
    return read(db);
  } finally {
    db.close();
  }
}

function found(row: Columns): FoundEntry {
  return {
    seq: Number(row.seq),
    sessionId: textOrNull(row.session),
    kind: String(row.kind),
    payload: JSON.parse(String(row.payload)),
    wallMs: Number(row.wall_ms),
    offsetMin: Number(row.offset_min),
    continuousMs: Number(row.continuous_ms),
    boot: String(row.boot),
    author: { initials: String(row.author), role: String(row.role) },
    commandId: textOrNull(row.command_id),
    prevHash: String(row.prev_hash),
    hash: String(row.hash),
  };
}

const textOrNull = (value: string | number | null | undefined): string | null => (value == null ? null : String(value));

/** Where a chain does not hold: the sequence of each entry that is out of place or whose hash is not its own. */
export function brokenAt(entries: readonly FoundEntry[]): number[] {
  let before = '0'.repeat(64);
  return entries.flatMap((entry, index) => {
    const { hash, ...body } = entry;
    const text = `dimroom ledger entry 1\n${canonicalize(body)}`;
    const own = createHash('sha256').update(text, 'utf8').digest('hex');
    const holds = entry.seq === index + 1 && entry.prevHash === before && hash === own;
    before = hash;
    return holds ? [] : [entry.seq];
  });
}
