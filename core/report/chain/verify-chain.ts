import { CHAIN_START, type Entry, hashOf, type Sha256 } from '../../ledger/entry.ts';
import { after, opened } from '../../ledger/replay.ts';
import { type Anchor, anchorText } from '../../ledger/verify.ts';
import type { Session } from '../../procedure/session.ts';
import { CHAIN_FORMAT, type ChainExport, chainExportSchema, digestOf, type Gap } from './chain-shape.ts';

/** Something that is wrong with an export, and at which entry; null where it concerns the whole. */
export interface Fault {
  readonly seq: number | null;
  readonly what: string;
}

export interface VerifiedChain {
  /** Null where the file is not written as an export is. */
  readonly read: ChainExport | null;
  readonly faults: readonly Fault[];
}

/** Whether a JSON value says that it is a chain export, sound or not. */
export const isChainExport = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && 'format' in value && value.format === CHAIN_FORMAT;

/**
 * Checks an export by itself: shape, every hash, order, links, replay of its sessions, its own counts, its digest; and
 * an anchor, where one was kept elsewhere. Every fault is named, not the first alone.
 */
export function verifyChain(value: unknown, sha256: Sha256, anchor: Anchor | null = null): VerifiedChain {
  const parsed = chainExportSchema.safeParse(value);
  if (!parsed.success) {
    const faults = parsed.error.issues.map(({ path, message }) => ({
      seq: null,
      what: `${path.map(String).join('.')} is not as an export has it: ${message}`,
    }));
    return { read: null, faults };
  }
  const read = parsed.data;
  const faults = [
    ...chainFaults(read, sha256),
    ...sessionFaults(read),
    ...headFaults(read, sha256),
    ...(anchor === null ? [] : anchorFaults(read, anchor)),
  ];
  return { read, faults };
}

/** Hashes of what is known of a place in the chain: an entry's own, or one named in a gap. */
function hashesBySeq({ entries, gaps }: ChainExport): Map<number, string> {
  const named = (gaps ?? []).flatMap(({ fromSeq, hashes }) =>
    hashes.map((hash, n): [number, string] => [fromSeq + n, hash]),
  );
  return new Map([...named, ...entries.map(({ seq, hash }): [number, string] => [seq, hash])]);
}

function chainFaults(read: ChainExport, sha256: Sha256): Fault[] {
  const known = hashesBySeq(read);
  let lastSeq = 0;
  const faults = read.entries.flatMap((entry) => {
    const { seq } = entry;
    const out = seq <= lastSeq ? [{ seq, what: 'out of order' }] : [];
    lastSeq = Math.max(lastSeq, seq);
    if (hashOf(entry, sha256) !== entry.hash) {
      out.push({ seq, what: 'changed after it was written: its hash does not fit its content' });
    }
    const before = seq === 1 ? CHAIN_START : known.get(seq - 1);
    if (before !== undefined && before !== entry.prevHash)
      out.push({ seq, what: 'does not follow the entry before it' });
    return out;
  });
  return [...faults, ...(read.gaps === null ? [] : gapFaults(read, read.gaps))];
}

/** With gaps, every place from the first entry of the ledger to its head is either an entry or a hash. */
function gapFaults({ entries, head }: ChainExport, gaps: readonly Gap[]): Fault[] {
  const bent = gaps.filter(({ fromSeq, toSeq, hashes }) => hashes.length !== toSeq - fromSeq + 1);
  const places = [
    ...entries.map(({ seq }) => seq),
    ...gaps.flatMap(({ fromSeq, hashes }) => hashes.map((_, n) => fromSeq + n)),
  ];
  const sorted = places.toSorted((one, other) => one - other);
  const missing = sorted.findIndex((seq, index) => seq !== index + 1);
  return [
    ...bent.map(({ fromSeq }) => ({ seq: fromSeq, what: 'a gap does not hold as many hashes as it says' })),
    ...(missing >= 0 ? [{ seq: missing + 1, what: 'neither an entry nor a hash stands here' }] : []),
    ...(missing < 0 && sorted.length !== head.seq
      ? [{ seq: head.seq, what: 'the gaps do not reach to the head' }]
      : []),
  ];
}

function sessionFaults({ entries, sessions, patientCode, unreadable }: ChainExport): Fault[] {
  const named = new Set(sessions.map(({ sessionId }) => sessionId));
  const strays = entries.filter(({ sessionId }) => sessionId === null || !named.has(sessionId));
  return [
    ...strays.map(({ seq }) => ({ seq, what: 'belongs to no session of this export' })),
    ...unreadable.map(({ seq, says }) => ({ seq, what: `was damaged in the ledger already: ${says}` })),
    ...sessions.flatMap((session) => {
      const own = entries.filter(({ sessionId }) => sessionId === session.sessionId);
      const counted = { entries: own.length, firstSeq: own[0]?.seq, lastSeq: own.at(-1)?.seq };
      const short = (['entries', 'firstSeq', 'lastSeq'] as const).some((name) => counted[name] !== session[name]);
      return [
        ...(short ? [{ seq: null, what: `session ${session.sessionId} has other entries than the export says` }] : []),
        ...replayFaults(own, session.practice, patientCode),
      ];
    }),
  ];
}

function replayFaults(entries: readonly Entry[], practice: boolean, patientCode: string | null): Fault[] {
  let session: Session | null = null;
  for (const entry of entries) {
    try {
      session = session === null ? opened(entry) : after(session, entry);
    } catch (error) {
      const says = error instanceof Error ? error.message.replace(/^entry \d+: /, '') : String(error);
      return [{ seq: entry.seq, what: `not possible in its session: ${says}` }];
    }
  }
  const record = session?.context ?? null;
  const seq = entries[0]?.seq ?? null;
  const code = record?.patient?.patientCode ?? null;
  return [
    ...(record !== null && record.practice !== practice
      ? [{ seq, what: 'its session says otherwise of practice' }]
      : []),
    ...(patientCode !== null && code !== patientCode ? [{ seq, what: `its session is of patient ${code}` }] : []),
  ];
}

function headFaults(read: ChainExport, sha256: Sha256): Fault[] {
  const { entries, gaps, digest, ...head } = read;
  const faults: Fault[] = [];
  const fault = (what: string): void => void faults.push({ seq: null, what });
  if (
    digestOf(
      head,
      entries.map(({ hash }) => hash),
      gaps,
      sha256,
    ) !== digest
  ) {
    fault('changed after it was exported: its digest does not fit');
  }
  if (head.anchor !== anchorText({ fileId: head.fileId, ...head.head })) fault('its anchor is not that of its head');
  if ((head.practice !== null) !== head.sessions.some((one) => one.practice))
    fault('says otherwise of practice than its sessions');
  const last = entries.at(-1);
  if (last !== undefined && last.seq > head.head.seq) fault('holds entries after the head it names');
  const known = hashesBySeq(read).get(head.head.seq);
  if (known !== undefined && known !== head.head.hash) fault('its head is not the entry it holds at that place');
  return faults;
}

function anchorFaults(read: ChainExport, { fileId, seq, hash }: Anchor): Fault[] {
  if (read.fileId !== fileId) return [{ seq: null, what: 'the anchor was taken of another file' }];
  const known = seq === read.head.seq ? read.head.hash : hashesBySeq(read).get(seq);
  if (known === undefined) {
    return [{ seq, what: 'this export does not hold the entry of the anchor: only the ledger can be held against it' }];
  }
  return known === hash ? [] : [{ seq, what: 'not the entry that the anchor was taken of: written anew since' }];
}
