import { cpus } from 'node:os';
import { defineConfig } from 'vitest/config';

/** They share one display and one sound card, and the machine's attention: one file at a time, after all others. */
const SHOWN = ['screens', 'desktop', 'packaged'].map((folder) => `tests/${folder}/**/*.test.{ts,tsx}`);
const EVERY = ['tests/**/*.test.{ts,tsx}'];

const shared = { environment: 'node', pool: 'forks', testTimeout: 60_000, hookTimeout: 120_000 } as const;

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          ...shared,
          name: 'reckoned',
          include: EVERY,
          exclude: SHOWN,
          maxWorkers: Math.min(2, cpus().length),
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: { ...shared, name: 'shown', include: SHOWN, fileParallelism: false, sequence: { groupOrder: 1 } },
      },
    ],
  },
});
