import { closeSync, mkdirSync, openSync, rmSync, writeSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { generate } from './generate.ts';

// Makes a ledger of invented sessions, and beside it what is true of each, one JSON line a session:
// `node_modules/.bin/node tests/generated/main.ts SESSIONS FILE [--seed N]`. Prints what was made, and how fast.
const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { seed: { type: 'string', default: '1' } },
});
const sessions = Number(positionals[0]);
const file = resolve(positionals[1] ?? '');
if (!Number.isInteger(sessions) || sessions < 1 || positionals[1] === undefined) {
  console.error('say how many sessions, and the file: main.ts 2000 /tmp/generated/ledger.sqlite3');
  process.exit(2);
}
mkdirSync(dirname(file), { recursive: true });
for (const name of [file, `${file}-wal`, `${file}-shm`]) rmSync(name, { force: true });
const truths = openSync(`${file}.truth.jsonl`, 'w');
let lines: string[] = [];
const flush = (): void => {
  writeSync(truths, lines.join(''));
  lines = [];
};
const startedMs = performance.now();
const made = generate({
  file,
  sessions,
  seed: Number(values.seed),
  onTruth: (truth) => {
    lines.push(`${JSON.stringify(truth)}\n`);
    if (lines.length === 1000) flush();
  },
});
flush();
closeSync(truths);
const seconds = (performance.now() - startedMs) / 1000;
console.log(JSON.stringify({ file, ...made, seconds, entriesPerSecond: made.entries / seconds }, null, 2));
