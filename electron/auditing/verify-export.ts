import { closeSync, openSync, readFileSync, readSync } from 'node:fs';
import { canonicalJson } from '../../core/ledger/entry.ts';
import { readAnchor } from '../../core/ledger/verify.ts';
import { type ChainExport, ONLY_THE_LEDGER_PROVES, PROVES } from '../../core/report/chain/chain-shape.ts';
import { type Fault, isChainExport, verifyChain } from '../../core/report/chain/verify-chain.ts';
import { openExtracts } from '../station/extracts.ts';
import { sha256 } from '../station/sha256.ts';

/** The JSON in a file that says it is a chain export; null where the file is anything else, a ledger among them. */
export function chainExportIn(file: string): unknown {
  try {
    // A ledger may be larger than memory: it is not read through to see that it is none of ours.
    if (!opensLikeJson(file)) return null;
    const value: unknown = JSON.parse(readFileSync(file, 'utf8'));
    return isChainExport(value) ? value : null;
  } catch {
    return null;
  }
}

function opensLikeJson(file: string): boolean {
  const first = Buffer.alloc(1);
  const opened = openSync(file, 'r');
  try {
    readSync(opened, first, 0, 1, 0);
  } finally {
    closeSync(opened);
  }
  return first.toString('latin1') === '{';
}

/** What an export shows by itself, and, held against the ledger, that it holds what the ledger holds and all of it. */
export function verifyExport(file: string, value: unknown, anchorWords: string | null, against: string | null) {
  const { read, faults } = verifyChain(value, sha256, anchorWords === null ? null : readAnchor(anchorWords));
  const problems = [...faults, ...(read === null || against === null ? [] : apartFrom(read, against))];
  return {
    file,
    kind: 'chain export',
    against,
    sound: problems.length === 0,
    practice: read?.practice ?? null,
    fileId: read?.fileId ?? null,
    sessions: read?.sessions.length ?? 0,
    entries: read?.entries.length ?? 0,
    headSeq: read?.head.seq ?? 0,
    headHash: read?.head.hash ?? null,
    leftOut: read?.leftOut ?? [],
    problems,
    proves: PROVES,
    onlyTheLedgerProves: against === null ? ONLY_THE_LEDGER_PROVES : [],
  };
}

/** Where an export and the ledger it was taken from are apart. */
function apartFrom(read: ChainExport, file: string): Fault[] {
  const ledger = openExtracts(file);
  try {
    if (ledger.fileId !== read.fileId) return [{ seq: null, what: 'was taken of another ledger' }];
    const faults: Fault[] = [];
    if (ledger.hashAt(read.head.seq) !== read.head.hash) {
      faults.push({ seq: read.head.seq, what: 'the ledger holds another entry at the head the export names' });
    }
    for (const { sessionId } of read.sessions) {
      const own = new Map(read.entries.filter((entry) => entry.sessionId === sessionId).map((one) => [one.seq, one]));
      for (const entry of ledger.extract(sessionId).entries) {
        if (entry.seq > read.head.seq) continue;
        const exported = own.get(entry.seq);
        own.delete(entry.seq);
        if (exported === undefined) faults.push({ seq: entry.seq, what: 'is in the ledger, and left out here' });
        else if (canonicalJson(exported) !== canonicalJson(entry)) {
          faults.push({ seq: entry.seq, what: 'is not as the ledger has it' });
        }
      }
      faults.push(...[...own.keys()].map((seq) => ({ seq, what: 'is not in the ledger' })));
    }
    for (const { fromSeq, toSeq, hashes } of read.gaps ?? []) {
      const held = ledger.hashes(fromSeq, toSeq);
      const apart = hashes.findIndex((hash, index) => hash !== held[index]);
      if (apart >= 0) faults.push({ seq: fromSeq + apart, what: 'has another hash in the ledger' });
    }
    return faults;
  } catch (error) {
    if (error instanceof RangeError) return [{ seq: null, what: error.message }];
    throw error;
  } finally {
    ledger.close();
  }
}
