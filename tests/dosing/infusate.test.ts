import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planInfusate, VIAL } from '../../core/dosing/infusate.ts';

const order = fc.record({
  bodySurfaceAreaM2: fc.double({ min: 0.35, max: 5, noNaN: true }),
  doseMgPerM2: fc.constantFrom(2, 3, 6),
  infusionMin: fc.constantFrom(8, 10),
  graduationMl: fc.constantFrom(0.01, 0.02, 0.05, 0.1, 0.2, 0.5),
});

test('drug and D5W make up the total volume', () => {
  fc.assert(
    fc.property(order, (ordered) => {
      const { drugMlRounded, diluentMl, totalMl } = planInfusate(ordered);
      expect(drugMlRounded + diluentMl).toBeCloseTo(totalMl, 9);
      expect(totalMl).toBe(30);
    }),
  );
});

test('rounding moves the volume by no more than half a graduation, and says by how many mg', () => {
  fc.assert(
    fc.property(order, (ordered) => {
      const infusate = planInfusate(ordered);
      expect(Math.abs(infusate.drugMlRounded - infusate.drugMl)).toBeLessThanOrEqual(ordered.graduationMl / 2 + 1e-8);
      expect(infusate.doseMg + infusate.roundingErrorMg).toBeCloseTo(infusate.drugMlRounded * VIAL.mgPerMl, 8);
      expect(infusate.doseAfterRoundingMg).toBeCloseTo(infusate.drugMlRounded * VIAL.mgPerMl, 8);
    }),
  );
});

test('what is drawn up lies on a mark of the syringe and is written without stray digits', () => {
  fc.assert(
    fc.property(order, (ordered) => {
      const { drugMlRounded } = planInfusate(ordered);
      const marks = drugMlRounded / ordered.graduationMl;
      expect(Math.abs(marks - Math.round(marks))).toBeLessThan(1e-6);
      expect(String(drugMlRounded).length).toBeLessThanOrEqual('14.75'.length);
    }),
  );
});

test('the vials hold what is drawn up, one fewer would not, and the rest is left over', () => {
  fc.assert(
    fc.property(order, (ordered) => {
      const { vials, leftoverMl, drugMlRounded } = planInfusate(ordered);
      expect(vials * VIAL.reconstitutedMl).toBeGreaterThanOrEqual(drugMlRounded);
      expect((vials - 1) * VIAL.reconstitutedMl).toBeLessThan(drugMlRounded);
      expect(drugMlRounded + leftoverMl).toBeCloseTo(vials * VIAL.reconstitutedMl, 9);
    }),
  );
});

test('a larger body gets no smaller dose, drawn up or reckoned', () => {
  fc.assert(
    fc.property(order, fc.double({ min: 0.001, max: 1, noNaN: true }), (ordered, moreM2) => {
      const smaller = planInfusate(ordered);
      const larger = planInfusate({ ...ordered, bodySurfaceAreaM2: ordered.bodySurfaceAreaM2 + moreM2 });
      expect(larger.doseMg).toBeGreaterThan(smaller.doseMg);
      expect(larger.doseAfterRoundingMg).toBeGreaterThanOrEqual(smaller.doseAfterRoundingMg);
    }),
  );
});

test('the pump at its rate empties the total volume in the infusion time', () => {
  fc.assert(
    fc.property(order, (ordered) => {
      const { rateMlPerMin, rateMlPerH, totalMl } = planInfusate(ordered);
      expect(rateMlPerMin * ordered.infusionMin).toBeCloseTo(totalMl, 9);
      expect(rateMlPerH).toBeCloseTo(rateMlPerMin * 60, 9);
    }),
  );
});

describe('rounding to the graduation', () => {
  const drawn = (bodySurfaceAreaM2: number, doseMgPerM2: number, graduationMl?: number) =>
    planInfusate({
      bodySurfaceAreaM2,
      doseMgPerM2,
      infusionMin: 10,
      ...(graduationMl === undefined ? {} : { graduationMl }),
    });

  test('5.43 mL is drawn up as 5.4 mL, 0.06 mg too little', () => {
    expect(drawn(1.81, 6)).toMatchObject({
      drugMlRounded: 5.4,
      doseAfterRoundingMg: 10.8,
      roundingErrorMg: -0.06,
      diluentMl: 24.6,
      leftoverMl: 2.1,
    });
  });

  test('2.715 mL is half a mark of 0.01 mL and goes up', () => {
    expect(drawn(1.81, 3, 0.01).drugMlRounded).toBe(2.72);
  });

  test('4.35 mL and 1.15 mL are half a mark of 0.1 mL and go up, whatever binary fractions make of them', () => {
    expect(drawn(1.45, 6).drugMlRounded).toBe(4.4);
    expect(drawn(1.15, 2).drugMlRounded).toBe(1.2);
  });

  test('2.50 m2 at 6 mg/m2 is one vial to the last drop', () => {
    expect(drawn(2.5, 6)).toMatchObject({ drugMlRounded: 7.5, vials: 1, leftoverMl: 0, roundingErrorMg: 0 });
  });

  test('an error too small to write is zero without a minus, as JSON would give it back', () => {
    expect(drawn(2.5 + 1e-12, 6).roundingErrorMg).toBe(0);
  });

  test('a hair over 2.50 m2 that rounds to 7.5 mL is still one vial; on a finer syringe it is two', () => {
    expect(drawn(2.51, 6).vials).toBe(1);
    expect(drawn(2.51, 6, 0.01).vials).toBe(2);
  });
});

describe('an infusate that cannot be made is refused', () => {
  const sound = { bodySurfaceAreaM2: 1.81, doseMgPerM2: 6, infusionMin: 10 };

  test.each([
    [{ bodySurfaceAreaM2: 18.1 }, '54.3 mL of drug does not fit into a total of 30 mL'],
    [{ totalMl: 5.42, graduationMl: 0.1 }, '5.4 mL of drug does not fit into a total of 5.42 mL'],
    [{ bodySurfaceAreaM2: 0.4, doseMgPerM2: 2, graduationMl: 1 }, '0.400 mL of drug is less than half a graduation'],
    [{ bodySurfaceAreaM2: 0 }, 'Body surface area must be above 0 m2, not 0 m2'],
    [{ bodySurfaceAreaM2: Number.NaN }, 'Body surface area must be above 0 m2, not NaN m2'],
    [{ doseMgPerM2: -6 }, 'Dose must be above 0 mg/m2, not -6 mg/m2'],
    [{ infusionMin: 0 }, 'Infusion time must be above 0 min, not 0 min'],
    [{ totalMl: Number.POSITIVE_INFINITY }, 'Total volume must be above 0 mL, not Infinity mL'],
    [{ graduationMl: 0 }, 'Graduation must be 0.01 to 1 mL, not 0 mL'],
  ])('%o', (change, sentence) => {
    expect(() => planInfusate({ ...sound, ...change })).toThrow(RangeError);
    expect(() => planInfusate({ ...sound, ...change })).toThrow(sentence);
  });

  test('drug alone may fill the whole volume', () => {
    expect(planInfusate({ ...sound, bodySurfaceAreaM2: 1.8, totalMl: 5.4 }).diluentMl).toBe(0);
  });
});
