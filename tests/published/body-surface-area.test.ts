import { describe, expect, test } from 'vitest';
import { BSA_FORMULAS, type BsaFormulaId, bodySurfaceAreaM2 } from '../../core/dosing/body-surface-area.ts';

describe('published software test values (not tables of the original papers)', () => {
  test.each<[BsaFormulaId, number, number, number, number, string]>([
    ['du-bois', 170, 75, 1.864, 3, 'unit tests of an open clinical-trial R package'],
    ['boyd', 170, 75, 1.905, 3, 'unit tests of an open clinical-trial R package'],
    ['gehan-george', 170, 75, 1.897, 3, 'unit tests of an open clinical-trial R package'],
    ['haycock', 170, 75, 1.895, 3, 'unit tests of an open clinical-trial R package'],
    ['mosteller', 170, 75, 1.882, 3, 'unit tests of an open clinical-trial R package'],
    ['du-bois', 170, 70, 1.809708, 6, 'documentation of an open pharmacokinetics R package'],
    ['mosteller', 175, 70, 1.845, 3, 'test file of an open package'],
  ])('%s: %d cm and %d kg give %d m2', (formula, heightCm, weightKg, publishedM2, decimals) => {
    expect(bodySurfaceAreaM2(formula, heightCm, weightKg)).toBeCloseTo(publishedM2, decimals);
  });
});

describe('[computed] grid, from the equations of the papers', () => {
  const columns = ['du-bois', 'boyd', 'gehan-george', 'haycock', 'mosteller'] as const;
  const grid: readonly (readonly [heightCm: number, weightKg: number, ...areasM2: number[]])[] = [
    [150, 50, 1.4325, 1.469, 1.4608, 1.4497, 1.4434],
    [160, 50, 1.5011, 1.4977, 1.5012, 1.4873, 1.4907],
    [160, 60, 1.6221, 1.6558, 1.6489, 1.6405, 1.633],
    [170, 60, 1.6949, 1.6862, 1.6916, 1.6804, 1.6833],
    [170, 70, 1.8097, 1.8347, 1.8313, 1.8257, 1.8181],
    [180, 80, 1.9964, 2.0074, 2.0095, 2.0066, 2.0],
  ];
  test.each(grid)('%d cm and %d kg by all five formulas', (heightCm, weightKg, ...areasM2) => {
    const ours = columns.map((formula) => bodySurfaceAreaM2(formula, heightCm, weightKg).toFixed(4));
    expect(ours).toEqual(areasM2.map((areaM2) => areaM2.toFixed(4)));
  });
});

// Heights and weights of the subjects: values from memory, verify.
describe('[computed] Du Bois areas of the subjects of Du Bois and Du Bois, Arch Intern Med 1916;17:863', () => {
  test.each([
    [110.3, 24.2, 8421],
    [164.3, 64.0, 16995],
    [178.0, 64.08, 18021],
    [179.2, 74.05, 19257],
    [149.7, 93.0, 18621],
  ])('%d cm and %d kg give %d cm2', (heightCm, weightKg, areaCm2) => {
    expect(Math.round(bodySurfaceAreaM2('du-bois', heightCm, weightKg) * 10_000)).toBe(areaCm2);
  });
});

test('Du Bois with height in metres has the constant 0.20247 (Arch Intern Med 1916;17:863)', () => {
  expect(bodySurfaceAreaM2('du-bois', 170, 70)).toBeCloseTo(0.20247 * 1.7 ** 0.725 * 70 ** 0.425, 4);
});

test('Mosteller by inches, pounds and 3131 (N Engl J Med 1987;317:1098) is the metric form within 0.15 %', () => {
  const inches = 170 / 2.54;
  const pounds = 70 / 0.45359237;
  const ratio = bodySurfaceAreaM2('mosteller', 170, 70) / Math.sqrt((inches * pounds) / 3131);
  expect(Math.abs(ratio - 1)).toBeLessThan(0.0015);
});

test('Boyd in grams and Boyd in kilograms differ by no more than 0.0003 m2 (kilogram form from public code)', () => {
  const kilogramForm = 0.0333 * 170 ** 0.3 * 70 ** (0.6157 - 0.0188 * Math.log10(70));
  const differenceM2 = Math.abs(bodySurfaceAreaM2('boyd', 170, 70) - kilogramForm);
  expect(differenceM2).toBeLessThan(0.00035);
  expect(differenceM2).toBeGreaterThan(0.00015);
});

test('[computed] at 160 cm, 100 kg and 6 mg/m2 the choice of formula moves the dose from 12.09 to 13.12 mg', () => {
  expect(bodySurfaceAreaM2('du-bois', 160, 100) * 6).toBeCloseTo(12.09, 2);
  expect(bodySurfaceAreaM2('boyd', 160, 100) * 6).toBeCloseTo(13.12, 2);
});

test('every formula names the paper and year it comes from', () => {
  const years = { mosteller: 1987, 'du-bois': 1916, haycock: 1978, 'gehan-george': 1970, boyd: 1935 };
  const named = Object.entries(BSA_FORMULAS).map(([id, { source }]) => [id, Number(/\b(19\d\d)\b/.exec(source)?.[1])]);
  expect(Object.fromEntries(named)).toEqual(years);
});
