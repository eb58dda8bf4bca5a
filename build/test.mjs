import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundle } from './bundle.mjs';
import { check } from './check.mjs';
import { neededChromium } from './chromium.mjs';
import { presentElectron } from './electron-runtime.mjs';
import { ROOT, stationNode } from './node-runtime.mjs';
import { ready } from './ready.mjs';

const VITEST = join(ROOT, 'node_modules/vitest/vitest.mjs');
const CONFIG = ['--config', 'tests/vitest.config.ts'];
const NO_CHROMIUM = 'no Chromium here; install one (Debian: apt-get install chromium), or name it in CHROMIUM';

ready();
const filters = process.argv.slice(2);
const failedChecks = check();
const bundled = bundle();
const chromium = neededChromium();
const lacking = whatIsLacking();
const skipped = lacking.map(({ folder }) => testsIn(folder)).reduce((sum, count) => sum + count, 0);
const tests = bundled ? runTests() : { passed: 0, failed: 1 };
const failed = tests.failed + failedChecks.length;

for (const { folder, why } of lacking) console.log(`not run: ${folder}: ${why}`);
for (const name of failedChecks) console.log(`failed: the check of ${name}; it says why above`);
if (!bundled) console.log('failed: the programs could not be bundled, so no test ran');
if (tests.passed + tests.failed === 0) console.log('no test ran');
console.log(`${tests.passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exitCode = failed === 0 && tests.passed > 0 ? 0 : 1;

/** Folders of tests that this machine cannot run, and what would let it. */
function whatIsLacking() {
  const needs = [
    { folder: 'tests/screens/console', why: chromium === null ? NO_CHROMIUM : null },
    { folder: 'tests/desktop', why: whyNoDesktop() },
    { folder: 'tests/packaged', why: whyNoDesktop() },
  ];
  return needs.filter(({ folder, why }) => why !== null && isWanted(folder) && existsSync(join(ROOT, folder)));
}

/** Filters are parts of the tests' paths; without any, all tests are wanted. */
function isWanted(folder) {
  return filters.length === 0 || filters.some((filter) => folder.includes(filter) || filter.includes(folder));
}

function whyNoDesktop() {
  if (presentElectron() === null) {
    return 'no Electron runtime here; run node_modules/.bin/install-electron, or name its folder in ELECTRON_OVERRIDE_DIST_PATH';
  }
  const display = process.platform !== 'linux' || process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  return display ? null : 'no display here; run on a desktop, or under a virtual X display named in DISPLAY';
}

/** How many tests a folder holds, without running them. */
function testsIn(folder) {
  const words = [VITEST, 'list', '--json', ...CONFIG, folder];
  const { stdout } = spawnSync(stationNode(), words, { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 2] });
  return JSON.parse(stdout).length;
}

function runTests() {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-tests-'));
  const results = join(folder, 'results.json');
  const words = [
    ...['run', ...CONFIG, '--passWithNoTests', '--reporter=default', '--reporter=json', `--outputFile.json=${results}`],
    ...lacking.flatMap(({ folder }) => ['--exclude', `${folder}/**`]),
    ...filters,
  ];
  const env = { ...process.env, ...(chromium === null ? {} : { CHROMIUM: chromium }) };
  const { status } = spawnSync(stationNode(), [VITEST, ...words], { cwd: ROOT, stdio: ['ignore', 1, 2], env });
  const counted = existsSync(results) ? count(JSON.parse(readFileSync(results, 'utf8'))) : { passed: 0, failed: 0 };
  rmSync(folder, { recursive: true });
  // A run that failed outside any test, for example by an error nobody caught, has not passed.
  return status !== 0 && counted.failed === 0 ? { ...counted, failed: 1 } : counted;
}

/** A file that could not be read at all has failed, though no test of it has. */
function count({ numPassedTests, numFailedTests, testResults }) {
  const unread = testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && assertionResults.length === 0,
  );
  return { passed: numPassedTests, failed: numFailedTests + unread.length };
}
