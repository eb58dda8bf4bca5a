import { parentPort, workerData } from 'node:worker_threads';
import { z } from 'zod';
import { verify } from '../auditing/reports.ts';

// Reads a whole ledger beside the station, by a connection of its own, so that no countdown waits for it.
const { file } = z.strictObject({ file: z.string() }).parse(workerData);

try {
  const { sound, problems, entries, headSeq, headHash } = verify(file, null);
  parentPort?.postMessage({ sound, problems: problems.slice(0, 20), entries, headSeq, headHash });
} catch (error) {
  parentPort?.postMessage({ unreadable: error instanceof Error ? error.message : String(error) });
}
