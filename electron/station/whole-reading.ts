import { Worker } from 'node:worker_threads';
import { z } from 'zod';

const readingSchema = z.union([
  z.strictObject({
    sound: z.boolean(),
    entries: z.number(),
    headSeq: z.number(),
    headHash: z.string().nullable(),
    problems: z.array(z.strictObject({ seq: z.number().nullable(), what: z.string(), since: z.string().nullable() })),
  }),
  z.strictObject({ unreadable: z.string() }),
]);

/** What reading a whole ledger came to. */
export type WholeReading = z.infer<typeof readingSchema>;

/** Reads a ledger from its first entry to its last in a thread of its own: pages, schema, chain, replay. */
export function readWhole(file: string): Promise<WholeReading> {
  return new Promise((resolve) => {
    const worker = new Worker(new URL('./reading-worker.mjs', import.meta.url), { workerData: { file } });
    worker.once('message', (message) => resolve(readingSchema.parse(message)));
    worker.once('error', (error) => resolve({ unreadable: error.message }));
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
