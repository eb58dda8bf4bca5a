import { join } from 'node:path';

const RUNNER = join(import.meta.dirname, 'in-process.mjs');

/** The quickest judges first: most mutants get no further. */
export const FIRST = [
  ...['dosing', 'light', 'time', 'regimen', 'published'].map((folder) => `tests/${folder}/*.test.ts`),
  'tests/procedure/!(two-timers|every-situation).test.ts',
  ...['order', 'body-asked', 'trouble'].map((name) => `tests/plan/${name}.test.ts`),
  ...['withheld', 'tables'].map((name) => `tests/exports/${name}.test.ts`),
];

/** Whole walks, and thousands of sessions: for what the first left alive. */
export const LAST = [
  ...['when', 'words', 'light-care'].map((name) => `tests/after-care/${name}.test.ts`),
  ...['computed-alone', 'line-and-flush'].map((name) => `tests/plan/${name}.test.ts`),
  ...['two-timers', 'every-situation'].map((name) => `tests/procedure/${name}.test.ts`),
];

/** Mutants of what a dose, an exposure and a step depend on. `run.mjs` runs this twice: with `FIRST`, then with all. */
export default {
  testRunner: 'in-process',
  plugins: [RUNNER],
  inProcess: { tests: FIRST },
  mutate: ['core/dosing/**/*.ts', 'core/light/**/*.ts', 'core/procedure/**/*.ts', 'core/time/**/*.ts'],
  coverageAnalysis: 'perTest',
  concurrency: 2,
  ignoreStatic: true,
  reporters: ['json', 'progress-append-only'],
  tempDirName: '/tmp/dimroom-mutants',
  // A mutant that never ends is known by how often it is met; by a short time a busy machine would count others too.
  timeoutMS: 120_000,
  dryRunTimeoutMinutes: 20,
  // TypeScript 7 has no program interface that this could rewrite a tsconfig with; none is needed.
  tsconfigFile: 'none.json',
  warnings: { unknownOptions: false },
};
