import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';

const LOG_FILE = resolve(import.meta.dirname, '../../electron/carrier/log-file.ts');
const MEBIBYTE = 1024 * 1024;

let data: string;
let folder: string;
beforeEach(() => {
  data = mkdtempSync(join(tmpdir(), 'dimroom-log-'));
  folder = join(data, 'logs');
});
afterEach(() => rmSync(data, { recursive: true }));

/** Runs some lines of a program that keeps its log, and returns what its terminal showed. */
function run(lines: string): { shown: string; complained: string } {
  const program = `import { keepLog } from ${JSON.stringify(LOG_FILE)}; keepLog(${JSON.stringify(folder)}); ${lines}`;
  const { stdout, stderr } = spawnSync(process.execPath, ['--input-type=module', '--eval', program], {
    encoding: 'utf8',
    maxBuffer: 64 * MEBIBYTE,
  });
  return { shown: stdout, complained: stderr };
}

const log = (): string => readFileSync(join(folder, 'dimroom.log'), 'utf8');

test('what a program tells its terminal is in its log as well, each line with its instant', () => {
  const { shown, complained } = run(`console.info('it starts'); console.error('it fails:', new RangeError('why'));`);
  expect(shown).toContain('it starts');
  expect(complained).toContain('it fails:');
  const [first = '', second = ''] = log().split('\n');
  expect(first).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z info it starts$/);
  expect(second).toMatch(/Z error it fails: RangeError: why$/);
});

test('the log grows to a limit, then begins anew, and one earlier is kept', () => {
  run(`for (let n = 0; n < 3500; n += 1) console.info(n, 'x'.repeat(1000)); console.info('last')`);
  expect(readdirSync(folder).sort()).toEqual(['dimroom.log', 'dimroom.old.log']);
  for (const name of readdirSync(folder)) {
    expect(statSync(join(folder, name)).size).toBeLessThan(1.1 * MEBIBYTE);
  }
  expect(log()).toContain('last');
});

test('one line is not let fill it', () => {
  run(`console.error('x'.repeat(${5 * MEBIBYTE}))`);
  expect(log().length).toBeLessThan(3000);
});

test('a folder that cannot be made does not stop the program', () => {
  writeFileSync(folder, 'a file stands in its way');
  expect(run(`console.info('it goes on')`).shown).toContain('it goes on');
  expect(readFileSync(folder, 'utf8')).toBe('a file stands in its way');
});
