import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dosesAt, flushConsequence, lineEffect } from '../../core/dosing/line.ts';

const infusate = { totalMl: 30, doseAfterRoundingMg: 12, rateMlPerMin: 3 };

const line = fc.record({
  infusate: fc.record({
    totalMl: fc.constant(30),
    doseAfterRoundingMg: fc.double({ min: 1, max: 30, noNaN: true }),
    rateMlPerMin: fc.constantFrom(3, 3.75),
  }),
  lineMl: fc.double({ min: 0, max: 29, noNaN: true }),
  primedWith: fc.constantFrom('drug' as const, 'diluent' as const),
});
const seconds = fc.double({ min: 0, max: 900, noNaN: true });

describe('a line of 2 mL', () => {
  test('primed with drug empties the syringe 40 s early and delays nothing', () => {
    const effect = lineEffect({ infusate, lineMl: 2, primedWith: 'drug' });
    expect(effect.pumpEndS).toBeCloseTo(560, 9);
    expect(effect.arrivalDelayS).toBe(0);
    expect(effect.doseAtPumpEndMg).toBeCloseTo(11.2, 9);
    expect(effect.doseInLineMg).toBeCloseTo(0.8, 9);
  });

  test('primed with D5W keeps the pump to its 10 min and brings the drug 40 s late', () => {
    const effect = lineEffect({ infusate, lineMl: 2, primedWith: 'diluent' });
    expect(effect.pumpEndS).toBeCloseTo(600, 9);
    expect(effect.arrivalDelayS).toBeCloseTo(40, 9);
    expect(effect.doseAtPumpEndMg).toBeCloseTo(11.2, 9);
    expect(effect.doseInLineMg).toBeCloseTo(0.8, 9);
  });

  test('primed with drug has given a tenth of the dose after 1 min', () => {
    const doses = dosesAt({ infusate, lineMl: 2, primedWith: 'drug', infusedS: 60 });
    expect(doses.inPatientMg).toBeCloseTo(1.2, 9);
    expect(doses.inLineMg).toBeCloseTo(0.8, 9);
    expect(doses.inSyringeMg).toBeCloseTo(10, 9);
  });

  test('primed with D5W has given only what came through the line after 1 min, and nothing after 30 s', () => {
    const afterMinute = dosesAt({ infusate, lineMl: 2, primedWith: 'diluent', infusedS: 60 });
    expect(afterMinute.inPatientMg).toBeCloseTo(0.4, 9);
    expect(afterMinute.inLineMg).toBeCloseTo(0.8, 9);
    expect(afterMinute.inSyringeMg).toBeCloseTo(10.8, 9);
    const after30s = dosesAt({ infusate, lineMl: 2, primedWith: 'diluent', infusedS: 30 });
    expect(after30s.inPatientMg).toBe(0);
    expect(after30s.inLineMg).toBeCloseTo(0.6, 9);
  });
});

test('at every moment patient, line and syringe together hold the dose', () => {
  fc.assert(
    fc.property(line, seconds, (set, infusedS) => {
      const { inPatientMg, inLineMg, inSyringeMg } = dosesAt({ ...set, infusedS });
      expect(inPatientMg + inLineMg + inSyringeMg).toBeCloseTo(set.infusate.doseAfterRoundingMg, 9);
      expect(Math.min(inPatientMg, inLineMg, inSyringeMg)).toBeGreaterThanOrEqual(0);
    }),
  );
});

test('what the patient has had never goes down as the pump runs', () => {
  fc.assert(
    fc.property(line, seconds, seconds, (set, oneS, otherS) => {
      const earlier = dosesAt({ ...set, infusedS: Math.min(oneS, otherS) });
      const later = dosesAt({ ...set, infusedS: Math.max(oneS, otherS) });
      expect(later.inPatientMg).toBeGreaterThanOrEqual(earlier.inPatientMg);
    }),
  );
});

test('the syringe is empty at the end of the pump and holds drug a second before', () => {
  fc.assert(
    fc.property(line, (set) => {
      const { pumpEndS } = lineEffect(set);
      expect(dosesAt({ ...set, infusedS: pumpEndS }).inSyringeMg).toBeCloseTo(0, 9);
      expect(dosesAt({ ...set, infusedS: pumpEndS - 1 }).inSyringeMg).toBeGreaterThan(0);
    }),
  );
});

test('past the end of the pump nothing moves', () => {
  const set = { infusate, lineMl: 2, primedWith: 'drug' as const };
  expect(dosesAt({ ...set, infusedS: 5000 })).toEqual(dosesAt({ ...set, infusedS: 560 }));
});

test('with either priming the line keeps back the same dose at the end of the pump', () => {
  fc.assert(
    fc.property(line, (set) => {
      const drug = lineEffect({ ...set, primedWith: 'drug' });
      const diluent = lineEffect({ ...set, primedWith: 'diluent' });
      expect(drug.doseInLineMg).toBeCloseTo(diluent.doseInLineMg, 9);
      expect(drug.pumpEndS).toBeCloseTo(diluent.pumpEndS - diluent.arrivalDelayS, 9);
    }),
  );
});

describe('the flush', () => {
  const flushed = (flushMl: number) => flushConsequence({ doseInLineMg: 0.8, lineMl: 2, flushMl });

  test('that is too short leaves its share behind', () => {
    expect(flushed(0.5).deliveredMg).toBeCloseTo(0.2, 9);
    expect(flushed(0.5).notDeliveredMg).toBeCloseTo(0.6, 9);
  });

  test('that was not given leaves all behind', () => {
    expect(flushed(0)).toEqual({ deliveredMg: 0, notDeliveredMg: 0.8 });
  });

  test('of the line volume or more delivers all', () => {
    expect(flushed(2)).toEqual({ deliveredMg: 0.8, notDeliveredMg: 0 });
    expect(flushed(5)).toEqual({ deliveredMg: 0.8, notDeliveredMg: 0 });
  });

  test('of a line of no volume has nothing to deliver', () => {
    expect(flushConsequence({ doseInLineMg: 0, lineMl: 0, flushMl: 0 })).toEqual({ deliveredMg: 0, notDeliveredMg: 0 });
  });

  test('with an impossible figure is refused', () => {
    expect(() => flushConsequence({ doseInLineMg: 1, lineMl: 0, flushMl: 5 })).toThrow(
      'A line of 0 mL cannot hold 1 mg',
    );
    expect(() => flushed(-1)).toThrow('Flush volume must be 0 mL or more, not -1 mL');
    expect(() => flushed(Number.POSITIVE_INFINITY)).toThrow('Flush volume must be 0 mL or more, not Infinity mL');
    expect(() => flushConsequence({ doseInLineMg: -1, lineMl: 2, flushMl: 5 })).toThrow(RangeError);
  });
});

describe('a line that cannot be is refused', () => {
  test.each([
    [-1, 'Line volume must be 0 mL or more, not -1 mL'],
    [30, 'A line of 30 mL holds the whole infusate of 30 mL'],
    [Number.NaN, 'Line volume must be 0 mL or more, not NaN mL'],
  ])('%d mL', (lineMl, sentence) => {
    expect(() => lineEffect({ infusate, lineMl, primedWith: 'drug' })).toThrow(RangeError);
    expect(() => lineEffect({ infusate, lineMl, primedWith: 'diluent' })).toThrow(sentence);
    expect(() => dosesAt({ infusate, lineMl, primedWith: 'drug', infusedS: 1 })).toThrow(sentence);
  });

  test('and so is a time before the pump started', () => {
    expect(() => dosesAt({ infusate, lineMl: 2, primedWith: 'drug', infusedS: -1 })).toThrow(
      'Infused time must be 0 s',
    );
  });
});
