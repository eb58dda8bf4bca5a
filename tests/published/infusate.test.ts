import { describe, expect, test } from 'vitest';
import { INFUSATE_ML, planInfusate, VIAL } from '../../core/dosing/infusate.ts';

test('a vial of 15 mg with 7.0 mL of water gives 7.5 mL at 2.0 mg/mL (EU-SmPC)', () => {
  expect(VIAL).toMatchObject({ mg: 15, waterMl: 7, reconstitutedMl: 7.5, mgPerMl: 2 });
  expect(VIAL.mg / VIAL.reconstitutedMl).toBe(VIAL.mgPerMl);
});

test('30 mL over 10 min (EU-SmPC) is 3 mL/min (US prescribing information) and 180 mL/h [computed]', () => {
  const infusate = planInfusate({ bodySurfaceAreaM2: 1.81, doseMgPerM2: 6, infusionMin: 10 });
  expect(INFUSATE_ML).toBe(30);
  expect(infusate.totalMl).toBe(30);
  expect(infusate.rateMlPerMin).toBe(3);
  expect(infusate.rateMlPerH).toBe(180);
});

test('[computed] 30 mL over 8 min is 3.75 mL/min, 225 mL/h', () => {
  const infusate = planInfusate({ bodySurfaceAreaM2: 1.81, doseMgPerM2: 3, infusionMin: 8 });
  expect(infusate.rateMlPerMin).toBe(3.75);
  expect(infusate.rateMlPerH).toBe(225);
});

describe('[computed] drug and D5W by body surface area, from 2 mg/mL and 30 mL (EU-SmPC)', () => {
  test.each([
    [1.4, 6, 8.4, 4.2, 25.8],
    [1.81, 6, 10.86, 5.43, 24.57],
    [2.0, 6, 12, 6, 24],
    [1.4, 3, 4.2, 2.1, 27.9],
    [1.81, 3, 5.43, 2.715, 27.285],
    [2.0, 3, 6, 3, 27],
    [1.4, 2, 2.8, 1.4, 28.6],
    [1.81, 2, 3.62, 1.81, 28.19],
    [2.0, 2, 4, 2, 28],
  ])(
    '%d m2 at %d mg/m2: %d mg, %d mL of drug and %d mL of D5W',
    (bodySurfaceAreaM2, doseMgPerM2, mg, drugMl, d5wMl) => {
      const infusate = planInfusate({ bodySurfaceAreaM2, doseMgPerM2, infusionMin: 10 });
      expect(infusate.doseMg).toBeCloseTo(mg, 9);
      expect(infusate.drugMl).toBeCloseTo(drugMl, 9);
      expect(infusate.totalMl - infusate.drugMl).toBeCloseTo(d5wMl, 9);
    },
  );

  test.each([
    [6, 3],
    [3, 1.5],
    [2, 1],
  ])('%d mg/m2 is %d mL of drug per m2', (doseMgPerM2, drugMl) => {
    expect(planInfusate({ bodySurfaceAreaM2: 1, doseMgPerM2, infusionMin: 10 }).drugMl).toBe(drugMl);
  });
});

test('[computed] at 6 mg/m2 one vial covers 2.50 m2 exactly and 2.60 m2 takes a second', () => {
  const exact = planInfusate({ bodySurfaceAreaM2: 2.5, doseMgPerM2: 6, infusionMin: 10 });
  const over = planInfusate({ bodySurfaceAreaM2: 2.6, doseMgPerM2: 6, infusionMin: 10 });
  expect(exact).toMatchObject({ vials: 1, leftoverMl: 0, doseMg: VIAL.mg });
  expect(over).toMatchObject({ vials: 2, leftoverMl: 7.2 });
});
