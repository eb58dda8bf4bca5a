import { describe, expect, test } from 'vitest';
import { energyJ, exposureS, fluenceJPerCm2, fluencesAgree, powerMw } from '../../core/light/exposure.ts';
import { readBack } from '../../core/light/read-back.ts';
import {
  CAMERA_MAGNIFICATION_RECOMMENDED,
  DISC_CLEARANCE_UM,
  lesionUmFromImage,
  setSpotUm,
  spotAreaCm2,
  spotUm,
  TRIAL_LARGEST_SPOT_UM,
} from '../../core/light/spot.ts';

test('the spot is the greatest linear dimension plus 1000 um (US prescribing information)', () => {
  expect(spotUm(3000)).toBe(4000);
});

test('the largest spot of the trials, 6400 um (PMC2274995), is that of a lesion of 5400 um [computed]', () => {
  expect(TRIAL_LARGEST_SPOT_UM).toBe(6400);
  expect(spotUm(5400)).toBe(TRIAL_LARGEST_SPOT_UM);
});

test('the spot keeps 200 um from the disc (US prescribing information)', () => {
  expect(DISC_CLEARANCE_UM).toBe(200);
});

test('the recommended camera magnification is 2.4 to 2.6 (US prescribing information, EU-SmPC)', () => {
  expect(CAMERA_MAGNIFICATION_RECOMMENDED).toEqual({ min: 2.4, max: 2.6 });
});

test.each([
  [2.5, 3000, 4000],
  [2.4, 3125, 4125],
  [2.6, 2885, 3885],
])(
  '[computed] 7.5 mm on an image at %d times is %d um on the retina, a spot of %d um',
  (magnification, lesion, spot) => {
    expect(Math.round(lesionUmFromImage(7.5, magnification))).toBe(lesion);
    expect(Math.round(spotUm(lesionUmFromImage(7.5, magnification)))).toBe(spot);
  },
);

describe('[computed] area, power and energy of a uniform spot', () => {
  test.each([
    [1000, 0.00785, 4.7, 2.4, 0.39],
    [2000, 0.03142, 18.8, 9.4, 1.56],
    [3000, 0.07069, 42.4, 21.2, 3.52],
    [4000, 0.12566, 75.4, 37.7, 6.26],
    [6000, 0.28274, 169.6, 84.8, 14.08],
    [6400, 0.3217, 193.0, 96.5, 16.02],
  ])('%d um: %d cm2, %d mW at 600, %d mW at 300, %d J in 83 s at 600', (diameterUm, areaCm2, at600, at300, joules) => {
    const ourAreaCm2 = spotAreaCm2(diameterUm);
    expect(ourAreaCm2.toFixed(5)).toBe(areaCm2.toFixed(5));
    expect(powerMw(600, ourAreaCm2).toFixed(1)).toBe(at600.toFixed(1));
    expect(powerMw(300, ourAreaCm2).toFixed(1)).toBe(at300.toFixed(1));
    expect(energyJ(powerMw(600, ourAreaCm2), 83).toFixed(2)).toBe(joules.toFixed(2));
  });
});

describe('[computed] fluence against irradiance and seconds', () => {
  test.each([
    [600, 83, 49.8, 50],
    [300, 83, 24.9, 25],
    [600, 42, 25.2, 25],
    [600, 166, 99.6, 100],
  ])('%d mW/cm2 for %d s is %d J/cm2 and agrees with the nominal %d', (irradiance, seconds, fluence, nominal) => {
    expect(fluenceJPerCm2(irradiance, seconds)).toBeCloseTo(fluence, 9);
    expect(fluencesAgree(fluence, nominal)).toBe(true);
  });

  test.each([
    [50, 600, 83.33],
    [25, 600, 41.67],
  ])('exactly %d J/cm2 at %d mW/cm2 takes %d s', (fluence, irradiance, seconds) => {
    expect(exposureS(fluence, irradiance)).toBeCloseTo(seconds, 2);
  });

  test("the label's 50 J/cm2 does not agree with half of it, nor with 2 % more", () => {
    expect(fluencesAgree(50, 25)).toBe(false);
    expect(fluencesAgree(50, 51)).toBe(false);
  });
});

describe('[computed] a wrong lens is a dose error', () => {
  test.each([
    [1.5, 1.96, 351, -41],
    [1.96, 1.5, 1024, 71],
  ])('set up for %d, lens actually %d: %d mW/cm2 instead of 600, %d %%', (setUpFor, actual, irradiance, percent) => {
    const planned = {
      spotUm: 4000,
      irradianceMwPerCm2: 600,
      exposureS: 83,
      lensFactor: setUpFor,
      setSpotUm: setSpotUm(4000, setUpFor),
    };
    const shown = { setSpotUm: planned.setSpotUm, lensFactor: setUpFor, seconds: 83, irradianceMwPerCm2: 600 };
    const result = readBack({ planned, shown, lensOnEyeFactor: actual });
    expect(Math.round(result.retinalIrradianceMwPerCm2)).toBe(irradiance);
    expect(Math.round(result.errors.irradiance * 100)).toBe(percent);
    expect(result.agrees).toBe(false);
  });
});
