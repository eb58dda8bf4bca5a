import { defineConfig } from 'vitest/config';

/** The tests that judge the arithmetic, the procedure and time without a process or a screen: for mutants. */
export default defineConfig({
  test: {
    environment: 'node',
    include: ['dosing', 'light', 'procedure', 'time', 'published', 'regimen', 'replay', 'after-care'].map(
      (folder) => `tests/${folder}/**/*.test.ts`,
    ),
    testTimeout: 60_000,
  },
});
