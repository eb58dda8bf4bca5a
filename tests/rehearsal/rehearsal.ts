import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { z } from 'zod';

const REHEARSAL = resolve(import.meta.dirname, '../../dist/rehearsal/main.mjs');

const timerSchema = z.strictObject({ name: z.string(), dueS: z.number(), actualS: z.number().nullable() });
const sessionSchema = z.strictObject({
  finalState: z.string(),
  sessionId: z.string(),
  timers: z.array(timerSchema),
});
const reportSchema = z.strictObject({
  ...sessionSchema.shape,
  database: z.string(),
  refused: z
    .strictObject({ command: z.number(), kind: z.string(), atS: z.number(), missing: z.array(z.string()) })
    .optional(),
  sessions: z.array(sessionSchema).optional(),
  entries: z.array(z.looseObject({ seq: z.number(), kind: z.string(), sessionId: z.string().nullable() })),
});
const complaintSchema = z.strictObject({ error: z.string() });

interface Ran {
  readonly code: number;
  /** All of standard output, which has to be one JSON value. */
  readonly json: unknown;
  readonly stderr: string;
}

/** Runs the rehearsal as a person does from a command line. */
export function run(words: readonly string[], environment: Record<string, string> = {}): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const options = { env: { ...process.env, ...environment }, maxBuffer: 64 * 1024 * 1024 };
    execFile(process.execPath, [REHEARSAL, ...words], options, (error, stdout, stderr) => {
      const code = error === null ? 0 : error.code;
      if (typeof code !== 'number') return reject(error);
      resolve({ code, json: JSON.parse(stdout), stderr });
    });
  });
}

export const reportOf = ({ json }: Ran) => reportSchema.parse(json);
export const complaintOf = ({ json }: Ran): string => complaintSchema.parse(json).error;
