import type { Session } from '../procedure/session.ts';
import { CHAIN_START, type Entry, hashOf, type Sha256 } from './entry.ts';
import { after, opened } from './replay.ts';

/** Something that is wrong with a ledger: at which entry, what, and when that entry says it was written. */
export interface Problem {
  /** Null where it concerns the whole file. */
  readonly seq: number | null;
  readonly what: string;
  /** Wall time of the last entry before it that is sound; null where there is none. Everything since is in doubt. */
  readonly sinceWallMs: number | null;
}

/** One stored entry as it was found: read, or what keeps it from being read. */
export type Found =
  | { readonly seq: number; readonly entry: Entry }
  | { readonly seq: number; readonly unreadable: string };

export interface Verified {
  readonly entries: number;
  readonly sessions: number;
  readonly openSessions: number;
  readonly head: { readonly seq: number; readonly hash: string } | null;
  readonly fileId: string | null;
  readonly problems: readonly Problem[];
}

/** An anchor kept outside the machine: that this file had this entry with this hash. */
export interface Anchor {
  readonly fileId: string;
  readonly seq: number;
  readonly hash: string;
}

/**
 * Reads a ledger from its first entry to its last: every entry's own hash, that each follows the one before it, that
 * nothing is left out, and that each is possible where it stands when its session is folded from the beginning.
 * Goes on after a problem, and names each entry that is wrong by its own sequence.
 */
export class Verifier {
  private readonly sha256: Sha256;
  private readonly anchor: Anchor | null;
  private readonly problems: Problem[] = [];
  private readonly open = new Map<string, Session>();
  private readonly ended = new Set<string>();
  private entries = 0;
  private seq = 0;
  /** Hashes the next entry may name as its predecessor's: as stored, and as it ought to have been. */
  private follows: readonly string[] = [CHAIN_START];
  private head: Verified['head'] = null;
  private fileId: string | null = null;
  private soundWallMs: number | null = null;
  private anchored = false;

  constructor(sha256: Sha256, anchor: Anchor | null = null) {
    this.sha256 = sha256;
    this.anchor = anchor;
  }

  /** Takes the next stored entry, in order of sequence. */
  take(found: Found): void {
    this.entries += 1;
    const before = this.problems.length;
    if (found.seq <= this.seq) {
      this.problem(found.seq, 'has a place before the first');
      return;
    }
    if (found.seq !== this.seq + 1) this.gap(found.seq);
    this.seq = found.seq;
    if ('unreadable' in found) {
      this.problem(found.seq, `cannot be read: ${found.unreadable}`);
      this.follows = [];
      return;
    }
    this.link(found.entry);
    this.fold(found.entry);
    this.meetAnchor(found.entry);
    if (this.problems.length === before) this.soundWallMs = found.entry.wallMs;
  }

  /** What is wrong with the file beside its entries. */
  note(what: string): void {
    this.problem(null, what);
  }

  result(): Verified {
    if (this.anchor !== null && !this.anchored) this.missAnchor(this.anchor);
    return {
      entries: this.entries,
      sessions: this.open.size + this.ended.size,
      openSessions: this.open.size,
      head: this.head,
      fileId: this.fileId,
      problems: this.problems,
    };
  }

  private gap(seq: number): void {
    const missing = seq - this.seq - 1;
    const which = missing === 1 ? `entry ${this.seq + 1} is` : `entries ${this.seq + 1} to ${seq - 1} are`;
    this.problem(this.seq + 1, `${which} missing`);
    this.follows = [];
  }

  private link(entry: Entry): void {
    const own = hashOf(entry, this.sha256);
    if (own !== entry.hash) this.problem(entry.seq, 'changed after it was written: its hash does not fit its content');
    else if (this.follows.length > 0 && !this.follows.includes(entry.prevHash)) {
      this.problem(entry.seq, 'does not follow the entry before it');
    }
    this.follows = [entry.hash, own];
    this.head = { seq: entry.seq, hash: entry.hash };
    if (entry.seq === 1) {
      this.fileId = fileIdIn(entry);
      if (this.fileId === null) this.problem(1, 'the first entry does not name the file');
    }
  }

  private fold(entry: Entry): void {
    const { sessionId } = entry;
    if (sessionId === null) return;
    try {
      const before = this.open.get(sessionId);
      if (before === undefined && this.ended.has(sessionId)) {
        if (entry.kind !== 'addendum') this.problem(entry.seq, `"${entry.kind}" after the session had ended`);
        return;
      }
      const session = before === undefined ? opened(entry) : after(before, entry);
      if (entry.kind === 'discharge') {
        this.open.delete(sessionId);
        this.ended.add(sessionId);
      } else this.open.set(sessionId, session);
    } catch (error) {
      const says = error instanceof Error ? error.message.replace(/^entry \d+: /, '') : String(error);
      this.problem(entry.seq, `not possible in its session: ${says}`);
    }
  }

  private meetAnchor(entry: Entry): void {
    if (this.anchor === null || entry.seq !== this.anchor.seq) return;
    this.anchored = true;
    if (entry.hash !== this.anchor.hash)
      this.problem(entry.seq, 'not the entry that the anchor was taken of: rewritten since');
  }

  private missAnchor({ fileId, seq }: Anchor): void {
    if (this.fileId !== fileId) this.problem(null, 'the anchor was taken of another file');
    else this.problem(seq, `the anchor was taken at entry ${seq}, and the file ends at ${this.seq}: its tail was cut`);
  }

  private problem(seq: number | null, what: string): void {
    this.problems.push({ seq, what, sinceWallMs: this.soundWallMs });
  }
}

/** The identity of a ledger's file, which its first entry names; null where this entry names none. */
export const fileIdIn = ({ payload }: Pick<Entry, 'payload'>): string | null =>
  typeof payload.file === 'string' ? payload.file : null;

const ANCHOR = /^dimroom:([0-9a-f-]{36}):(\d{1,15}):([0-9a-f]{64})$/;

/** The anchor as one word, to be printed or copied elsewhere. */
export const anchorText = ({ fileId, seq, hash }: Anchor): string => `dimroom:${fileId}:${seq}:${hash}`;

/** @throws RangeError where the text is no anchor. */
export function readAnchor(text: string): Anchor {
  const parts = ANCHOR.exec(text.trim());
  const [, fileId, seq, hash] = parts ?? [];
  if (fileId === undefined || seq === undefined || hash === undefined) {
    throw new RangeError(
      'that is not an anchor: it looks like dimroom:FILE:SEQUENCE:HASH, as "ledger anchor" prints it',
    );
  }
  return { fileId, seq: Number(seq), hash };
}
