import { describe, expect, test } from 'vitest';
import { PHOTOSENSITIVITY_HOURS } from '../../core/regimen/photosensitivity.ts';
import { regimenById } from '../../core/regimen/regimens.ts';

describe('the regimens are those of their sources', () => {
  test.each([
    // EU-SmPC.
    ['label', 6, 10, 15, 50, 600, 83],
    // van Dijk et al, Ophthalmology 2018;125:1547: dose found; timing and light from memory, verify.
    ['half-dose-15', 3, 10, 15, 50, 600, 83],
    // Chan et al, Ophthalmology 2008;115:1756-65: dose and timing found; light from memory, verify.
    ['half-dose-10', 3, 8, 10, 50, 600, 83],
    // VIM trial, ARVO abstracts: light found. Reibaldi et al, Am J Ophthalmol 2010;149:307: dose, timing from memory.
    ['half-fluence', 6, 10, 15, 25, 300, 83],
    // Am J Ophthalmol 2016, PMID 27084002; Retina 2015, PMID 26035398: scheme found, figures from memory, verify.
    ['half-time', 6, 10, 15, 25, 600, 42],
  ])(
    '%s: %d mg/m2, %d min, light at %d, %d J/cm2, %d mW/cm2, %d s',
    (id, dose, infusion, light, fluence, irradiance, seconds) => {
      expect(regimenById(id)).toMatchObject({
        doseMgPerM2: dose,
        infusionMin: infusion,
        lightStartMin: light,
        fluenceJPerCm2: fluence,
        irradianceMwPerCm2: irradiance,
        exposureS: seconds,
      });
    },
  );
});

test('the label treats a second eye by 20 min from infusion start (EU-SmPC, US prescribing information)', () => {
  expect(regimenById('label').secondEyeLimitMin).toBe(20);
});

test('[computed] by the label the first eye ends at 16:23, which leaves 3:37 to begin the second', () => {
  const { lightStartMin, exposureS, secondEyeLimitMin } = regimenById('label');
  const firstEndsS = lightStartMin * 60 + exposureS;
  expect(firstEndsS).toBe(16 * 60 + 23);
  expect((secondEyeLimitMin ?? 0) * 60 - firstEndsS).toBe(3 * 60 + 37);
  expect((secondEyeLimitMin ?? 0) * 60 + exposureS).toBe(21 * 60 + 23);
});

test('no limit for a second eye is published for the scheme with light at 10 min', () => {
  expect(regimenById('half-dose-10').secondEyeLimitMin).toBeNull();
});

test('photosensitivity lasts 5 days by the US prescribing information and 48 h by the EU-SmPC', () => {
  expect(PHOTOSENSITIVITY_HOURS).toEqual({ us: 5 * 24, eu: 48 });
});
