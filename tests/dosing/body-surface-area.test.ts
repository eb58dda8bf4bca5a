import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  BODY_LIMITS,
  BSA_FORMULAS,
  type BsaFormulaId,
  bodySurfaceAreaM2,
  bodySurfaceAreaSpread,
} from '../../core/dosing/body-surface-area.ts';

const formulas = Object.keys(BSA_FORMULAS) as BsaFormulaId[];
const formula = fc.constantFrom(...formulas);
const heightCm = fc.double({ ...BODY_LIMITS.heightCm, noNaN: true });
const weightKg = fc.double({ ...BODY_LIMITS.weightKg, noNaN: true });
const more = fc.double({ min: 0.1, max: 50, noNaN: true });

test('a taller body has the larger area by every formula', () => {
  fc.assert(
    fc.property(formula, heightCm, weightKg, more, (id, height, weight, taller) => {
      fc.pre(height + taller <= BODY_LIMITS.heightCm.max);
      expect(bodySurfaceAreaM2(id, height + taller, weight)).toBeGreaterThan(bodySurfaceAreaM2(id, height, weight));
    }),
  );
});

test('a heavier body has the larger area by every formula', () => {
  fc.assert(
    fc.property(formula, heightCm, weightKg, more, (id, height, weight, heavier) => {
      fc.pre(weight + heavier <= BODY_LIMITS.weightKg.max);
      expect(bodySurfaceAreaM2(id, height, weight + heavier)).toBeGreaterThan(bodySurfaceAreaM2(id, height, weight));
    }),
  );
});

test('the spread spans all five formulas, and its ends are the formulas it names', () => {
  fc.assert(
    fc.property(heightCm, weightKg, formula, (height, weight, chosen) => {
      const spread = bodySurfaceAreaSpread(height, weight, chosen);
      const areasM2 = formulas.map((id) => bodySurfaceAreaM2(id, height, weight));
      expect(spread.minM2).toBe(Math.min(...areasM2));
      expect(spread.maxM2).toBe(Math.max(...areasM2));
      expect(bodySurfaceAreaM2(spread.minFormula, height, weight)).toBe(spread.minM2);
      expect(bodySurfaceAreaM2(spread.maxFormula, height, weight)).toBe(spread.maxM2);
    }),
  );
});

test('the spread is given as a share of the chosen formula', () => {
  expect(bodySurfaceAreaSpread(160, 100, 'du-bois').shareOfChosen).toBeCloseTo(0.085, 3);
  expect(bodySurfaceAreaSpread(160, 100).shareOfChosen).toBeCloseTo((13.12 - 12.09) / 12.65, 3);
});

describe('a slip in height or weight is refused', () => {
  test.each([
    [1.7, 70, 'Height must be 50 to 250 cm, not 1.7 cm'],
    [251, 70, 'Height must be 50 to 250 cm, not 251 cm'],
    [170, 9, 'Weight must be 10 to 350 kg, not 9 kg'],
    [170, 70_000, 'Weight must be 10 to 350 kg, not 70000 kg'],
    [Number.NaN, 70, 'Height must be 50 to 250 cm, not NaN cm'],
    [170, Number.POSITIVE_INFINITY, 'Weight must be 10 to 350 kg, not Infinity kg'],
  ])('%d cm, %d kg', (height, weight, sentence) => {
    expect(() => bodySurfaceAreaM2('mosteller', height, weight)).toThrow(RangeError);
    expect(() => bodySurfaceAreaM2('mosteller', height, weight)).toThrow(sentence);
    expect(() => bodySurfaceAreaSpread(height, weight)).toThrow(sentence);
  });

  test('the ends of the limits themselves pass', () => {
    expect(bodySurfaceAreaM2('mosteller', 50, 10)).toBeCloseTo(0.3727, 4);
    expect(bodySurfaceAreaM2('mosteller', 250, 350)).toBeCloseTo(4.9301, 4);
  });
});
