import { describe, expect, test } from 'vitest';
import { flushConsequence, lineEffect } from '../../core/dosing/line.ts';

const infusate = { totalMl: 30, doseAfterRoundingMg: 10, rateMlPerMin: 3 };

describe('[computed] dead space of a line at 30 mL and 3 mL/min', () => {
  test.each([
    [0.5, 1.7, 10],
    [1.0, 3.3, 20],
    [1.5, 5.0, 30],
    [2.0, 6.7, 40],
    [3.0, 10.0, 60],
    [5.0, 16.7, 100],
  ])(
    '%d mL keeps back %d %% of the dose when not flushed and delays D5W-primed drug by %d s',
    (lineMl, percent, delayS) => {
      const effect = lineEffect({ infusate, lineMl, primedWith: 'diluent' });
      const { notDeliveredMg } = flushConsequence({ doseInLineMg: effect.doseInLineMg, lineMl, flushMl: 0 });
      expect((notDeliveredMg / infusate.doseAfterRoundingMg) * 100).toBeCloseTo(percent, 1);
      expect(effect.arrivalDelayS).toBeCloseTo(delayS, 9);
    },
  );
});
