// Mutants of the arithmetic, the procedure and time, and which survivor nobody explains: `node tests/mutants/run.mjs [FILE …]`.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isNewEnough, ROOT, stationNode } from '../../build/node-runtime.mjs';
import config, { FIRST, LAST } from './stryker.config.mjs';

const FIRST_REPORT = '/tmp/dimroom-mutants.json';
const LAST_REPORT = '/tmp/dimroom-mutants-left.json';

const words = process.argv.slice(2);
process.chdir(ROOT);
if (isNewEnough()) await run();
else
  process.exitCode = spawnSync(stationNode(), [fileURLToPath(import.meta.url), ...words], { stdio: 'inherit' }).status;

async function run() {
  for (const report of [FIRST_REPORT, LAST_REPORT]) rmSync(report, { force: true });
  await meet(words.length === 0 ? config.mutate : words, FIRST, FIRST_REPORT);
  const left = survivorsOf(FIRST_REPORT);
  if (left.length > 0) await meet(left, [...FIRST, ...LAST], LAST_REPORT);
  const reports = [FIRST_REPORT, LAST_REPORT].filter((report) => existsSync(report));
  const tool = join(import.meta.dirname, 'unexplained.mjs');
  process.exitCode = spawnSync(process.execPath, [tool, ...reports], { stdio: 'inherit' }).status;
}

async function meet(mutate, tests, fileName) {
  const { Stryker } = await import('@stryker-mutator/core');
  await new Stryker({ ...config, mutate, inProcess: { tests }, jsonReporter: { fileName } }).runMutationTest();
}

/** Where each survivor stands, as Stryker takes it: columns from 0, while its report counts them from 1. */
function survivorsOf(report) {
  const { files } = JSON.parse(readFileSync(report, 'utf8'));
  return Object.entries(files).flatMap(([file, { mutants }]) =>
    mutants
      .filter(({ status }) => status === 'Survived' || status === 'NoCoverage')
      .map(({ location: { start, end } }) => `${file}:${start.line}:${start.column - 1}-${end.line}:${end.column - 1}`),
  );
}
