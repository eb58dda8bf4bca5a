import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { text } from 'node:stream/consumers';
import { describe, expect, test } from 'vitest';
import { reckon } from '../../core/dosing/reckon.ts';

/** The program as scripts use it: one JSON object on standard input, one on standard output, and an exit code. */
const PROGRAM = resolve(import.meta.dirname, '../../electron/reckoning/main.ts');

async function run(input: string): Promise<{ code: number | null; stdout: string; stderr: string }> {
  const child = spawn(process.execPath, [PROGRAM], { stdio: 'pipe' });
  const ended = new Promise<number | null>((done) => child.once('close', done));
  child.stdin.end(input);
  const [code, stdout, stderr] = await Promise.all([ended, text(child.stdout), text(child.stderr)]);
  return { code, stdout, stderr };
}

test.concurrent.each([
  { heightCm: 168, weightKg: 71.5, lesionUm: 2600, lensFactor: 1.5, lineMl: 1.5 },
  { heightCm: 160, weightKg: 100, formula: 'du-bois', regimen: 'half-dose-10' },
])('a plan is printed to the last digit, with code 0 and nothing beside it: %j', async (request) => {
  const { code, stdout, stderr } = await run(JSON.stringify(request));
  expect(stderr).toBe('');
  expect(code).toBe(0);
  expect(JSON.parse(stdout)).toStrictEqual(reckon(request));
});

describe('what cannot be computed ends with code 2 and one JSON error: field, value, what is allowed', () => {
  test.concurrent.each<[string, string, string, unknown, RegExp]>([
    ['an unknown field', '{"heightCm": 170, "weightKg": 70, "hight": 1}', 'hight', 1, /no such field/],
    ['a string for a number', '{"heightCm": "170", "weightKg": 70}', 'heightCm', '170', /50 to 250 cm/],
    ['out of range', '{"heightCm": 1.7, "weightKg": 70}', 'heightCm', 1.7, /50 to 250 cm/],
    ['missing', '{"heightCm": 170}', 'weightKg', null, /10 to 350 kg/],
    ['half a scheme', '{"heightCm": 170, "weightKg": 70, "doseMgPerM2": 3}', 'infusionMin', null, /needed with/],
    ['null', 'null', 'request', null, /object/],
    ['a list', '[]', 'request', [], /object/],
    ['nothing', '', 'request', '', /one JSON object on standard input/],
    ['text that is not JSON', 'height 170', 'request', 'height 170', /one JSON object on standard input/],
    ['NaN, which is not JSON', '{"heightCm": NaN}', 'request', '{"heightCm": NaN}', /one JSON object on standard/],
    ['two objects', '{} {}', 'request', '{} {}', /one JSON object on standard input/],
    ['a number beyond all numbers', '{"heightCm": 1e999, "weightKg": 70}', 'heightCm', 'Infinity', /50 to 250 cm/],
  ])('%s', async (_what, input, field, value, allowed) => {
    const { code, stdout, stderr } = await run(input);
    expect(stderr).toBe('');
    expect(code).toBe(2);
    const { error } = JSON.parse(stdout);
    expect(error).toEqual({ field, value, allowed: expect.stringMatching(allowed), says: expect.any(String) });
    expect(error.says).toContain(`${field}: `);
  });
});
