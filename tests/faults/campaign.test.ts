import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { FAULT_NAMES } from '../../electron/faults/faults.ts';

const CAMPAIGN = resolve(import.meta.dirname, '../../dist/faults/main.mjs');
const RUNS = 12;

const campaignSchema = z.strictObject({
  runs: z.number(),
  seed: z.number(),
  entries: z.number(),
  faults: z.record(z.string(), z.number()),
  boundaries: z.string(),
  dueOffMs: z.number(),
  rungLateMs: z.strictObject({ median: z.number(), most: z.number() }),
  lost: z.strictObject({ run: z.number(), what: z.string() }).nullable(),
});

function campaign(...words: string[]): Promise<{ code: number; stdout: string }> {
  return new Promise((answer, reject) => {
    execFile(process.execPath, [CAMPAIGN, ...words], (error, stdout) => {
      const code = error === null ? 0 : error.code;
      if (typeof code === 'number') answer({ code, stdout });
      else reject(error);
    });
  });
}

test('sessions on real stations, under every fault at least once: nothing lost, nothing doubled, no instant moved', {
  timeout: 240_000,
}, async () => {
  const { code, stdout } = await campaign('--runs', String(RUNS), '--seed', '20310303');
  const said = campaignSchema.parse(JSON.parse(stdout));
  expect(said.lost).toBeNull();
  expect(code).toBe(0);
  expect(said.runs).toBe(RUNS);
  expect(said.dueOffMs).toBeLessThanOrEqual(50);
  const kinds = Object.keys(said.faults).map((name) => name.replace(/ \(.*/, ''));
  expect([...FAULT_NAMES, 'killed in a command'].filter((name) => !kinds.includes(name))).toStrictEqual([]);
});

test.each([
  ['--runs', '0'],
  ['--runs', 'many'],
  ['--turbo', '1'],
])('%s %s is answered with 2 and a complaint in JSON', async (...words) => {
  const { code, stdout } = await campaign(...words);
  expect(code).toBe(2);
  expect(JSON.parse(stdout)).toStrictEqual({ error: expect.any(String) });
});
