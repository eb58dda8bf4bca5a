import { expect, test } from 'vitest';
import { momentSchema } from '../../core/time/moment.ts';
import { momentAt } from '../session-steps.ts';

const moment = momentAt(4_200_000);

test('a moment has its three clocks and the boot that one of them belongs to', () => {
  expect(momentSchema.parse({ ...moment, continuousMs: 4_200_000.25 }).continuousMs).toBe(4_200_000.25);
});

test.each([
  [{ continuousMs: -1 }],
  [{ continuousMs: Number.NaN }],
  [{ wallMs: 0.5 }],
  [{ offsetMin: 5.75 }],
  [{ offsetMin: 901 }],
  [{ boot: '' }],
  [{ clock: 'other' }],
])('a moment with %o is refused', (wrong) => {
  expect(momentSchema.safeParse({ ...moment, ...wrong }).success).toBe(false);
});
