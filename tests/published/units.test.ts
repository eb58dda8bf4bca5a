import fc from 'fast-check';
import { evaluate, unit } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { readHeightCm, readWeightKg } from '../../core/dosing/body-entry.ts';
import { BSA_FORMULAS } from '../../core/dosing/body-surface-area.ts';
import { reckon } from '../../core/dosing/reckon.ts';

/** Units and dimensions by another implementation: where a unit is mixed up, its own arithmetic does not come out. */
const body = fc.record({
  heightCm: fc.double({ min: 50, max: 250, noNaN: true }),
  weightKg: fc.double({ min: 10, max: 350, noNaN: true }),
});

const figureOf = (read: ReturnType<typeof readHeightCm>): number => (read.ok ? read.value : Number.NaN);

test('feet and inches are the centimetres of the unit library', () => {
  for (let inches = 20; inches <= 98; inches += 1) {
    const typed = `${Math.floor(inches / 12)} ${inches % 12}`;
    expect(figureOf(readHeightCm(typed, 'ft in'))).toBeCloseTo(unit(inches, 'inch').toNumber('cm'), 9);
  }
});

test('pounds are the kilograms of the unit library', () => {
  for (let pounds = 23; pounds <= 771; pounds += 1) {
    expect(figureOf(readWeightKg(String(pounds), 'lb'))).toBeCloseTo(unit(pounds, 'lbm').toNumber('kg'), 9);
  }
});

test('metres are the centimetres of the unit library', () => {
  for (let mm = 500; mm <= 2500; mm += 1) {
    const typed = (mm / 1000).toFixed(3);
    expect(figureOf(readHeightCm(typed, 'm'))).toBeCloseTo(unit(mm, 'mm').toNumber('cm'), 9);
  }
});

/**
 * Each formula written once more in another form: by inches and pounds, or by logarithms. Constants as in the papers
 * named in the formulas' own sources.
 */
describe('each body surface area formula in another form', () => {
  const inches = (heightCm: number) => unit(heightCm, 'cm').toNumber('inch');
  const pounds = (weightKg: number) => unit(weightKg, 'kg').toNumber('lbm');
  const cmPerInch = unit(1, 'inch').toNumber('cm');
  const kgPerLb = unit(1, 'lbm').toNumber('kg');

  const again: Record<keyof typeof BSA_FORMULAS, (heightCm: number, weightKg: number) => number> = {
    mosteller: (heightCm, weightKg) =>
      Math.sqrt((inches(heightCm) * pounds(weightKg)) / (3600 / (cmPerInch * kgPerLb))),
    'du-bois': (heightCm, weightKg) =>
      10 ** (Math.log10(71.84) + 0.725 * Math.log10(heightCm) + 0.425 * Math.log10(weightKg)) / 10_000,
    haycock: (heightCm, weightKg) =>
      Math.exp(Math.log(0.024265) + 0.3964 * Math.log(heightCm) + 0.5378 * Math.log(weightKg)),
    'gehan-george': (heightCm, weightKg) =>
      0.0235 * (inches(heightCm) * cmPerInch) ** 0.42246 * (pounds(weightKg) * kgPerLb) ** 0.51456,
    boyd: (heightCm, weightKg) => {
      const log10G = Math.log10(unit(weightKg, 'kg').toNumber('g'));
      return 10 ** (Math.log10(3.207) - 4 + 0.3 * Math.log10(heightCm) + (0.7285 - 0.0188 * log10G) * log10G);
    },
  };

  test.each(Object.keys(again) as (keyof typeof again)[])('%s', (formula) => {
    fc.assert(
      fc.property(body, ({ heightCm, weightKg }) => {
        const areaM2 = BSA_FORMULAS[formula].areaM2(heightCm, weightKg);
        expect(areaM2 / again[formula](heightCm, weightKg)).toBeCloseTo(1, 10);
      }),
    );
  });

  test('Mosteller by inches and pounds has the 3131 of the paper (N Engl J Med 1987;317:1098)', () => {
    expect(3600 / (cmPerInch * kgPerLb)).toBeCloseTo(3125, 0);
    expect(Math.abs(3131 / (3600 / (cmPerInch * kgPerLb)) - 1)).toBeLessThan(0.0025);
  });
});

const workedOut = (expression: string, inUnit: string): number => Number(evaluate(`number(${expression}, ${inUnit})`));

test('a plan, worked out once more with every figure in its unit', () => {
  const lightOn = fc.record({
    heightCm: fc.double({ min: 120, max: 210, noNaN: true }),
    weightKg: fc.double({ min: 35, max: 180, noNaN: true }),
    lesionUm: fc.double({ min: 300, max: 6000, noNaN: true }),
    lineMl: fc.double({ min: 0, max: 5, noNaN: true }),
  });
  fc.assert(
    fc.property(lightOn, (request) => {
      const plan = reckon({ ...request, lensFactor: 1.5 });
      const dose = `(6 mg/m^2 * ${plan.bodySurfaceAreaM2} m^2)`;
      expect(plan.doseMg).toBeCloseTo(workedOut(dose, 'mg'), 9);
      expect(plan.drugMl).toBeCloseTo(workedOut(`${dose} / (2 mg/mL)`, 'mL'), 9);
      const rate = '(30 mL / (10 minute))';
      expect(plan.rateMlPerH).toBeCloseTo(workedOut(rate, 'mL/hour'), 9);
      expect(plan.pumpEndS).toBeCloseTo(workedOut(`(30 mL - ${request.lineMl} mL) / ${rate}`, 's'), 6);

      const spot = `(${request.lesionUm} um + 1 mm)`;
      expect(plan.spotUm).toBeCloseTo(workedOut(spot, 'um'), 6);
      const area = `(pi / 4 * ${spot}^2)`;
      expect(plan.areaCm2).toBeCloseTo(workedOut(area, 'cm^2'), 9);
      const power = `(600 mW/cm^2 * ${area})`;
      expect(plan.powerMw).toBeCloseTo(workedOut(power, 'mW'), 6);
      expect(plan.energyJ).toBeCloseTo(workedOut(`${power} * 83 s`, 'J'), 9);
    }),
    { numRuns: 50 },
  );
});
