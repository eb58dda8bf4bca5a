import { parentPort, workerData } from 'node:worker_threads';
import { anchorText } from '../../core/ledger/verify.ts';
import type { WholeReading } from '../../core/protocol/verifying.ts';
import { verify } from '../auditing/reports.ts';
import { readingOfSchema } from './reading-frames.ts';

// Reads a whole ledger beside the station, by a connection of its own, so that no countdown waits for it.
const { file, anchor } = readingOfSchema.parse(workerData);

const PROBLEMS_AT_MOST = 20;
const TOLD_EVERY_ENTRIES = 1000;

try {
  parentPort?.postMessage({ reading: read() });
} catch (error) {
  parentPort?.postMessage({ reading: { unreadable: error instanceof Error ? error.message : String(error) } });
}

function read(): WholeReading {
  const { sound, problems, entries, fileId, headSeq, headHash } = verify(file, anchor, (seq) => {
    if (seq % TOLD_EVERY_ENTRIES === 0) parentPort?.postMessage({ readTo: seq });
  });
  return {
    sound,
    entries,
    headSeq,
    headHash,
    anchor: fileId === null || headHash === null ? null : anchorText({ fileId, seq: headSeq, hash: headHash }),
    problems: problems.slice(0, PROBLEMS_AT_MOST),
    problemCount: problems.length,
  };
}
