import { describe, expect, test } from 'vitest';
import { readHeightCm, readWeightKg } from '../../core/dosing/body-entry.ts';
import { flushConsequence } from '../../core/dosing/line.ts';
import { BadRequest, reckon } from '../../core/dosing/reckon.ts';
import { energyJ, exposureS, fluenceJPerCm2, powerMw } from '../../core/light/exposure.ts';
import { readBack } from '../../core/light/read-back.ts';

const thrown = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  return 'nothing';
};

const BODY = { heightCm: 168, weightKg: 71.5 };
const SCHEME = { doseMgPerM2: 3, infusionMin: 8, lightStartMin: 10, fluenceJPerCm2: 25, irradianceMwPerCm2: 300 };

describe('what a plan request is refused for', () => {
  const faultOf = (request: unknown): Pick<BadRequest, 'field' | 'value' | 'allowed'> => {
    try {
      reckon(request);
    } catch (error) {
      if (error instanceof BadRequest) return { field: error.field, value: error.value, allowed: error.allowed };
    }
    throw new Error('it was not refused');
  };

  test('a field that there is not, with those that there are', () => {
    const fault = faultOf({ ...BODY, heigthCm: 170 });
    expect(fault).toMatchObject({ field: 'heigthCm', value: 170 });
    expect(fault.allowed).toMatch(/^no such field; there are: heightCm, weightKg, formula, .*, lensFactor$/);
  });

  test('what is no object at all', () => {
    for (const request of [null, 5, 'a plan', [1]])
      expect(faultOf(request)).toMatchObject({ field: 'request', value: request });
  });

  test('no request at all is called nothing', () => {
    expect(thrown(() => reckon(undefined))).toMatch(/^request: nothing is not possible; allowed is /);
  });

  test('a dose too small for the syringe is a fault of the dose, with the volume that it comes to', () => {
    expect(faultOf({ heightCm: 50, weightKg: 10, ...SCHEME, doseMgPerM2: 0.5, graduationMl: 1 })).toEqual({
      field: 'doseMgPerM2',
      value: 0.5,
      allowed: '0.093 mL of drug is less than half a graduation of 1 mL: use a finer syringe.',
    });
  });

  test('a value that is missing is shown as null, and the sentence names field, value and what is allowed', () => {
    expect(faultOf({ weightKg: 71.5 })).toEqual({
      field: 'heightCm',
      value: null,
      allowed: 'a number from 50 to 250 cm',
    });
    expect(thrown(() => reckon({ weightKg: 71.5 }))).toBe(
      'heightCm: null is not possible; allowed is a number from 50 to 250 cm',
    );
  });

  test('a regimen beside a scheme of one’s own', () => {
    expect(faultOf({ ...BODY, ...SCHEME, regimen: 'label' })).toMatchObject({
      field: 'regimen',
      value: 'label',
      allowed:
        'either a regimen or the figures of a scheme (doseMgPerM2, infusionMin, lightStartMin, fluenceJPerCm2, irradianceMwPerCm2), not both',
    });
  });

  test.each(Object.keys(SCHEME))('a scheme without %s, and with it alone', (field) => {
    const { [field as keyof typeof SCHEME]: value, ...others } = SCHEME;
    expect(faultOf({ ...BODY, ...others })).toMatchObject({
      field,
      allowed: `needed with ${Object.keys(others).join(', ')}`,
    });
    expect(faultOf({ ...BODY, [field]: value }).allowed).toBe(`needed with ${field}`);
  });

  test('light before the infusion has ended; at its very end it may be', () => {
    expect(faultOf({ ...BODY, ...SCHEME, lightStartMin: 7 })).toMatchObject({
      field: 'lightStartMin',
      value: 7,
      allowed: 'not before the infusion has ended, at 8 min',
    });
    expect(reckon({ ...BODY, ...SCHEME, lightStartMin: 8 }).lightStartS).toBe(480);
  });

  test('a lens without a lesion; with a lesion, or an image, it is taken', () => {
    expect(faultOf({ ...BODY, lensFactor: 1.5 })).toMatchObject({
      field: 'lesionUm',
      value: null,
      allowed: 'needed with lensFactor, or imageMm and cameraMagnification',
    });
    expect(reckon({ ...BODY, lensFactor: 1.5, lesionUm: 2600 }).setSpotUm).toBeCloseTo(2400, 6);
    expect(reckon({ ...BODY, lensFactor: 1.5, imageMm: 5, cameraMagnification: 2.5 }).setSpotUm).toBeCloseTo(2000, 6);
  });

  test('a scheme of one’s own is off label, and says by which name', () => {
    expect(reckon({ ...BODY, ...SCHEME }).cautions).toContainEqual(
      expect.stringMatching(/^Scheme of the request: off-label/),
    );
    expect(reckon(BODY).cautions).not.toContainEqual(expect.stringContaining('off-label'));
  });

  test('without a lesion nothing is said of light', () => {
    const { cautions, spotUm, setSpotUm, areaCm2, powerMw, energyJ } = reckon(BODY);
    expect([spotUm, setSpotUm, areaCm2, powerMw, energyJ]).toEqual([null, null, null, null, null]);
    expect(cautions).toHaveLength(1);
  });
});

describe('a figure that the arithmetic refuses is named, with its unit', () => {
  test.each([
    ['Irradiance', 'mW/cm', () => exposureS(50, 0)],
    ['Irradiance', 'mW/cm', () => fluenceJPerCm2(0, 83)],
    ['Exposure', ' s', () => fluenceJPerCm2(600, -1)],
    ['Irradiance', 'mW/cm', () => powerMw(-600, 0.1)],
    ['Spot area', 'cm', () => powerMw(600, 0)],
    ['Power', ' mW', () => energyJ(0, 83)],
    ['Exposure', ' s', () => energyJ(90, -1)],
    ['Line volume', ' mL', () => flushConsequence({ doseInLineMg: 1, lineMl: -1, flushMl: 5 })],
    ['Dose in the line', ' mg', () => flushConsequence({ doseInLineMg: -1, lineMl: 1, flushMl: 5 })],
  ])('%s in %s', (what, unit, work) => {
    expect(thrown(work)).toContain(what);
    expect(thrown(work)).toContain(unit);
  });

  test('the factor of a lens has no unit', () => {
    const planned = { spotUm: 4500, irradianceMwPerCm2: 600, exposureS: 83, lensFactor: 1.5, setSpotUm: 3000 };
    const shown = { setSpotUm: 3000, lensFactor: 1.5, seconds: 83, irradianceMwPerCm2: 600 };
    expect(thrown(() => readBack({ planned, shown, lensOnEyeFactor: 9 }))).toMatch(
      /^Factor of the lens on the eye .*3[.: ,]?/,
    );
    expect(thrown(() => readBack({ planned, shown, lensOnEyeFactor: 9 }))).not.toMatch(/ {2}|Stryker/);
  });
});

describe('a height or a weight that was typed otherwise', () => {
  const says = (read: { ok: boolean; says?: string }) => read.says;

  test('nothing at all is asked for by its name', () => {
    expect(says(readHeightCm('  ', 'cm'))).toBe('Enter the height.');
    expect(says(readWeightKg('', 'kg'))).toBe('Enter the weight.');
  });

  test('what is no figure is quoted as it was meant, without the spaces around it', () => {
    expect(says(readWeightKg(' 7O ', 'kg'))).toContain('"7O" is not one');
    expect(says(readHeightCm(' 5 12 ', 'ft in'))).toContain('"5 12" is not that');
    expect(says(readHeightCm(' 20 ', 'cm'))).toContain('; 20 cm is 20 cm');
    expect(says(readWeightKg(' 900 ', 'lb'))).toContain('; 900 lb is 408.23 kg');
  });

  test('inches may have more than one decimal', () => {
    expect(readHeightCm('5 8.25', 'ft in')).toMatchObject({ ok: true, value: expect.closeTo(173.355, 6) });
  });

  test('feet alone are feet', () => {
    expect(readHeightCm('6 ft', 'ft in')).toMatchObject({ ok: true, value: expect.closeTo(182.88, 6) });
  });
});
