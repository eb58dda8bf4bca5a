import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { energyJ, exposureS, fluenceJPerCm2, fluencesAgree, powerMw } from '../../core/light/exposure.ts';
import { spotAreaCm2 } from '../../core/light/spot.ts';

const irradiance = fc.double({ min: 1, max: 2000, noNaN: true });
const fluence = fc.double({ min: 0.1, max: 200, noNaN: true });
const seconds = fc.double({ min: 0, max: 1000, noNaN: true });

test('the exposure for a fluence, at its irradiance, gives that fluence', () => {
  fc.assert(
    fc.property(fluence, irradiance, (wanted, at) => {
      expect(fluenceJPerCm2(at, exposureS(wanted, at))).toBeCloseTo(wanted, 9);
    }),
  );
});

test('energy is fluence times area', () => {
  fc.assert(
    fc.property(irradiance, seconds, fc.double({ min: 50, max: 20_000, noNaN: true }), (at, lasting, diameterUm) => {
      const areaCm2 = spotAreaCm2(diameterUm);
      expect(energyJ(powerMw(at, areaCm2), lasting)).toBeCloseTo(fluenceJPerCm2(at, lasting) * areaCm2, 6);
    }),
  );
});

test('a beam broken off and resumed gives the fluence of its whole beam-on time', () => {
  fc.assert(
    fc.property(irradiance, seconds, seconds, (at, before, after) => {
      expect(fluenceJPerCm2(at, before) + fluenceJPerCm2(at, after)).toBeCloseTo(fluenceJPerCm2(at, before + after), 6);
    }),
  );
});

describe('two fluences agree', () => {
  test('within 1 % of the larger, the edge included', () => {
    expect(fluencesAgree(50, 49.5)).toBe(true);
    expect(fluencesAgree(50, 49.49)).toBe(false);
    expect(fluencesAgree(101, 99.99)).toBe(true);
  });

  test('where both are no light at all', () => {
    expect(fluencesAgree(0, 0)).toBe(true);
  });

  test('whichever is named first', () => {
    fc.assert(fc.property(fluence, fluence, (one, other) => fluencesAgree(one, other) === fluencesAgree(other, one)));
  });

  test('not when one is no number', () => {
    expect(fluencesAgree(50, Number.NaN)).toBe(false);
  });
});

test('light that cannot be is refused', () => {
  expect(() => exposureS(50, 0)).toThrow('Irradiance must be above 0 mW/cm2, not 0 mW/cm2');
  expect(() => exposureS(0, 600)).toThrow('Fluence must be above 0 J/cm2, not 0 J/cm2');
  expect(() => fluenceJPerCm2(600, -1)).toThrow('Exposure must be 0 s or more, not -1 s');
  expect(() => powerMw(600, Number.NaN)).toThrow('Spot area must be above 0 cm2, not NaN cm2');
  expect(() => energyJ(-1, 83)).toThrow(RangeError);
});
