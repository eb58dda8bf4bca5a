import fc from 'fast-check';
import { expect, test } from 'vitest';
import { minutesSeconds } from '../../core/time/show.ts';
import { stretchAt } from '../../renderer/link/stretch.ts';

const anInstant = fc.integer({ min: 0, max: 100_000 });

test('a count that is drawn once a stretch shows at every moment what it would if it were drawn always', () => {
  fc.assert(
    fc.property(anInstant, anInstant, fc.integer({ min: 0, max: 99 }), (dueAtMs, drawnAtMs, laterMs) => {
      const nowMs = drawnAtMs + laterMs;
      // What is due at this very instant is neither left nor over.
      fc.pre(drawnAtMs !== dueAtMs && nowMs !== dueAtMs);
      fc.pre(stretchAt(drawnAtMs, 100, dueAtMs) === stretchAt(nowMs, 100, dueAtMs));
      expect(minutesSeconds(dueAtMs - drawnAtMs)).toEqual(minutesSeconds(dueAtMs - nowMs));
    }),
    { numRuns: 2_000 },
  );
});
