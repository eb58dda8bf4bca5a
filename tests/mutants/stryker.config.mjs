import { join } from 'node:path';

/** Mutants of what a dose, an exposure and a step depend on: `node_modules/.bin/stryker run tests/mutants/stryker.config.mjs`. */
export default {
  testRunner: 'files-of-tests',
  plugins: [join(import.meta.dirname, 'files-of-tests.mjs')],
  vitest: { configFile: 'tests/mutants/vitest.config.ts', related: false },
  mutate: ['core/dosing/**/*.ts', 'core/light/**/*.ts', 'core/procedure/**/*.ts', 'core/time/**/*.ts'],
  coverageAnalysis: 'perTest',
  concurrency: 2,
  ignoreStatic: true,
  reporters: ['json', 'clear-text', 'progress-append-only'],
  jsonReporter: { fileName: '/tmp/dimroom-mutants.json' },
  tempDirName: '/tmp/dimroom-mutants',
  timeoutMS: 6000,
  // TypeScript 7 has no program interface that this could rewrite a tsconfig with; none is needed.
  tsconfigFile: 'none.json',
};
