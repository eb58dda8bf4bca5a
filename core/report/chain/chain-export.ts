import type { Entry, Sha256 } from '../../ledger/entry.ts';
import { anchorText } from '../../ledger/verify.ts';
import { type Extract, standingOf, WAITS, Withheld, withheldIn } from '../extract.ts';
import { PRACTICE_MARK } from '../marks.ts';
import { CHAIN_FORMAT, type ChainHead, digestOf, type Gap, ONLY_THE_LEDGER_PROVES, PROVES } from './chain-shape.ts';

export interface ChainAsked {
  /** Of one ledger, read at one moment. */
  readonly sessions: readonly Extract[];
  /** Where all sessions of one patient are wanted: what is withheld is then left out and named. */
  readonly patientCode: string | null;
  /** Hashes of the ledger's entries from one sequence to another, both included; null where gaps are not wanted. */
  readonly hashes: ((fromSeq: number, toSeq: number) => readonly string[]) | null;
  readonly sha256: Sha256;
}

/**
 * Sessions as JSON with their chain, in pieces of text: what `verify` checks by itself is in `PROVES`.
 *
 * @throws Withheld where one session is asked for whose order is not to be shown yet.
 * @throws RangeError where there is no session at all.
 */
export function* chainExport({ sessions, patientCode, hashes, sha256 }: ChainAsked): Generator<string> {
  const { shown, leftOut } = withoutWithheld(sessions, patientCode !== null);
  const head = headOf(shown, leftOut, sessions, patientCode);
  const entries = shown.flatMap((one) => one.entries).sort((one, other) => one.seq - other.seq);
  const gaps = hashes === null ? null : gapsOf(entries, head.head.seq, hashes);
  yield `${JSON.stringify(head, null, 2).slice(0, -2)},\n  "entries": [`;
  for (const [index, entry] of entries.entries()) yield `${index === 0 ? '' : ','}\n    ${JSON.stringify(entry)}`;
  const entryHashes = entries.map(({ hash }) => hash);
  yield `\n  ],\n  "gaps": ${JSON.stringify(gaps)},\n`;
  yield `  "digest": ${JSON.stringify(digestOf(head, entryHashes, gaps, sha256))}\n}\n`;
}

function withoutWithheld(sessions: readonly Extract[], leaveOut: boolean) {
  const withheld = sessions.filter((one) => withheldIn(one, standingOf(one)));
  const [first] = withheld;
  if (first !== undefined && !leaveOut) throw new Withheld(first.sessionId);
  return {
    shown: sessions.filter((one) => !withheld.includes(one)),
    leftOut: withheld.map(({ sessionId }) => ({ sessionId, why: WAITS })),
  };
}

function headOf(
  shown: readonly Extract[],
  leftOut: ChainHead['leftOut'],
  sessions: readonly Extract[],
  patientCode: string | null,
): ChainHead {
  const [any] = sessions;
  if (any === undefined) throw new RangeError('there is no session to export');
  const { fileId, head } = any;
  if (fileId === '')
    throw new RangeError("the ledger's first entry, which names the file, cannot be read: export csv or pdf");
  return {
    format: CHAIN_FORMAT,
    practice: sessions.some(({ practice }) => practice) ? PRACTICE_MARK : null,
    patientCode,
    fileId,
    head,
    anchor: anchorText({ fileId, ...head }),
    sessions: shown.map(({ sessionId, practice, entries, unreadable }) => ({
      sessionId,
      practice,
      entries: entries.length,
      ...spanOf(entries, unreadable),
    })),
    leftOut,
    unreadable: shown.flatMap(({ unreadable }) => unreadable.map(({ seq, says }) => ({ seq, says }))),
    proves: [...PROVES],
    onlyTheLedgerProves: [...ONLY_THE_LEDGER_PROVES],
  };
}

function spanOf(entries: readonly Entry[], unreadable: Extract['unreadable']): { firstSeq: number; lastSeq: number } {
  const seqs = [...entries, ...unreadable].map(({ seq }) => seq);
  return { firstSeq: Math.min(...seqs), lastSeq: Math.max(...seqs) };
}

/** Everything of the ledger that is not among the entries, as runs of hashes. */
function gapsOf(entries: readonly Entry[], headSeq: number, hashes: NonNullable<ChainAsked['hashes']>): Gap[] {
  const gaps: Gap[] = [];
  let nextSeq = 1;
  for (const toSeq of [...entries.map(({ seq }) => seq - 1), headSeq]) {
    if (toSeq >= nextSeq) gaps.push({ fromSeq: nextSeq, toSeq, hashes: [...hashes(nextSeq, toSeq)] });
    nextSeq = toSeq + 2;
  }
  return gaps;
}
