import type { Entry } from '../ledger/entry.ts';
import { after, opened } from '../ledger/replay.ts';
import { blind, WITHHELD_KINDS } from '../procedure/blind.ts';
import type { SessionRecord } from '../procedure/record.ts';
import type { Session } from '../procedure/session.ts';

/** One session as it is taken out of a ledger: all of its entries, and where the ledger stood when they were read. */
export interface Extract {
  readonly fileId: string;
  /** The ledger's last entry at that moment, of whichever session. */
  readonly head: { readonly seq: number; readonly hash: string };
  readonly sessionId: string;
  readonly practice: boolean;
  /** In order of sequence. */
  readonly entries: readonly Entry[];
  /** What the station entered for no session while this one was open: its clock, its zone, its disk. */
  readonly stationEntries: readonly Entry[];
  /** Entries of this session that are damaged: they cannot be exported, and the export says so. */
  readonly unreadable: readonly Damaged[];
}

export interface Damaged {
  readonly seq: number;
  readonly says: string;
}

/** A session folded as far as its entries can be read. */
export interface Standing {
  /** Null where not even the first entry can be read. */
  readonly record: SessionRecord | null;
  /** Where reading ended before the last entry, and why. */
  readonly trouble: Damaged | null;
}

type Readable = Pick<Extract, 'entries' | 'unreadable'>;

/** Folding a session is most of the work of exporting it, and several ask for it. */
const STANDINGS = new WeakMap<Readable, Standing>();

/** Never throws: a damaged session is exported with what can be read of it, and says so. */
export function standingOf(extract: Readable): Standing {
  const standing = STANDINGS.get(extract) ?? folded(extract);
  STANDINGS.set(extract, standing);
  return standing;
}

function folded(extract: Readable): Standing {
  let session: Session | null = null;
  for (const entry of readableOf(extract)) {
    try {
      session = session === null ? opened(entry) : after(session, entry);
    } catch (error) {
      const says = (error instanceof Error ? error.message : String(error)).replace(/^entry \d+: /, '');
      return { record: session?.context ?? null, trouble: { seq: entry.seq, says } };
    }
  }
  return { record: session?.context ?? null, trouble: extract.unreadable[0] ?? null };
}

/** The entries before the first that is damaged: what follows it is not the whole story any more. */
export function readableOf({ entries, unreadable }: Readable): readonly Entry[] {
  const first = unreadable[0]?.seq ?? Number.POSITIVE_INFINITY;
  return entries.filter(({ seq }) => seq < first);
}

/** Entries after which nothing is withheld any more, whatever can be read of the others. */
const OPENS_ALL: readonly string[] = ['prepare', 'stop-early'];

/**
 * Whether an export would show what the first person entered before a second has computed it alone. The words for it
 * are `WAITS`.
 */
export function withheldIn({ entries }: Pick<Extract, 'entries'>, { record }: Standing): boolean {
  const kinds = new Set(entries.map(({ kind }) => kind));
  if (OPENS_ALL.some((kind) => kinds.has(kind)) || !WITHHELD_KINDS.some((kind) => kinds.has(kind))) return false;
  return record === null || blind(record);
}

export const WAITS =
  'order, height and weight are withheld until a second person has computed them too: export it then, or once it is stopped';

/** An export that would show what is withheld. */
export class Withheld extends Error {
  constructor(sessionId: string) {
    super(`session ${sessionId} is not exported yet: ${WAITS}`);
  }
}
