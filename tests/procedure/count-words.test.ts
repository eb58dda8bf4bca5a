import { expect, test } from 'vitest';
import { viewOf } from '../../core/procedure/view.ts';
import { beamOn, flushing, held, infusing, momentAt, ring, T0_AT_MS, TWO_EYES, waiting } from '../session-steps.ts';

const minute = (minutes: number): number => T0_AT_MS + minutes * 60_000;

test.each([
  ['infusing', infusing(), minute(1)],
  ['held before the end of the infusion', held(), minute(9)],
  ['held after the end of the infusion', held(undefined, minute(11)), minute(12)],
  ['flushing', flushing(), minute(10.5)],
  ['waiting for light', waiting(), minute(12)],
  ['light on', beamOn(TWO_EYES), minute(15.2)],
])('every count has words for before its end and for after it: %s', (_where, session, atMs) => {
  const { main, second } = viewOf(ring(session, atMs).context, 1, momentAt(atMs)).board;
  expect(main).not.toBeNull();
  for (const count of [main, second]) {
    expect(count?.words).not.toBe('');
    expect(count?.pastWords).not.toBe('');
  }
});
