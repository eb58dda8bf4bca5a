import { Worker } from 'node:worker_threads';
import type { WholeReading } from '../../core/protocol/verifying.ts';
import { readingFrameSchema } from './reading-frames.ts';

export type { WholeReading } from '../../core/protocol/verifying.ts';

interface Reading {
  /** Kept elsewhere: whether the ledger still has that entry is told too. */
  readonly anchor?: string | null;
  readonly onReadTo?: (seq: number) => void;
}

/** Reads a ledger from its first entry to its last in a thread of its own: pages, schema, chain, replay. */
export function readWhole(file: string, { anchor = null, onReadTo = () => {} }: Reading = {}): Promise<WholeReading> {
  return new Promise((resolve) => {
    const worker = new Worker(new URL('./reading-worker.mjs', import.meta.url), { workerData: { file, anchor } });
    worker.on('message', (data) => {
      const frame = readingFrameSchema.parse(data);
      if ('reading' in frame) resolve(frame.reading);
      else onReadTo(frame.readTo);
    });
    worker.once('error', (error) => resolve({ unreadable: error.message }));
    worker.once('exit', () => resolve({ unreadable: 'the reading ended before it was done' }));
    worker.unref();
  });
}

/** In words, for the screens; empty where all is sound. */
export function troubleIn(reading: WholeReading): string[] {
  if ('unreadable' in reading) return [`the ledger could not be read through: ${reading.unreadable}`];
  return reading.problems.map(
    ({ seq, what }) => `the ledger is not sound${seq === null ? '' : `, entry ${seq}`}: ${what}`,
  );
}
