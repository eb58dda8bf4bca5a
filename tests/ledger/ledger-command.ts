import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { z } from 'zod';

const AUDITING = resolve(import.meta.dirname, '../../dist/auditing/main.mjs');

/** Runs the ledger command as a person does. All of standard output has to be one JSON value. */
export function ledgerCommand(...words: string[]): Promise<{ code: number; json: Record<string, unknown> }> {
  return new Promise((answer, reject) => {
    execFile(process.execPath, [AUDITING, ...words], { maxBuffer: 64 * 1024 * 1024 }, (error, stdout) => {
      const code = error === null ? 0 : error.code;
      if (typeof code !== 'number') return reject(error);
      answer({ code, json: z.record(z.string(), z.unknown()).parse(JSON.parse(stdout)) });
    });
  });
}

/** Hashes of a ledger's file and its log, by name; SQLite's index of the log beside them holds no data. */
export function bytesBeside(file: string): Record<string, string> {
  const own = [basename(file), `${basename(file)}-wal`];
  const names = readdirSync(dirname(file)).filter((name) => own.includes(name));
  return Object.fromEntries(
    names.map((name) => [
      name,
      createHash('sha256')
        .update(readFileSync(join(dirname(file), name)))
        .digest('hex'),
    ]),
  );
}
