import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BadRequest, reckon } from '../../core/dosing/reckon.ts';

/**
 * The reckoning: one plan request in, one plan out. Values from the places named beside each; what says "computed"
 * follows from them by arithmetic that is written out here or there.
 */
type Plan = Record<(typeof PROMISED)[number] | 'lightStartS', number> & { cautions: string[] };

/** Through JSON, as its users have it: what JSON cannot say does not get out. */
const reckoned = (request: object): Plan => JSON.parse(JSON.stringify(reckon(request)));

const PROMISED = [
  'bodySurfaceAreaM2',
  'doseMg',
  'drugMl',
  'drugMlRounded',
  'doseAfterRoundingMg',
  'diluentMl',
  'vials',
  'rateMlPerMin',
  'rateMlPerH',
  'lineMl',
  'pumpEndS',
  'doseAtPumpEndMg',
  'exposureS',
  'fluenceJPerCm2',
  'spotUm',
  'setSpotUm',
  'areaCm2',
  'powerMw',
  'energyJ',
] as const;
const LIGHT_ON_A_LESION = ['spotUm', 'setSpotUm', 'areaCm2', 'powerMw', 'energyJ'];

const whole = { heightCm: 168, weightKg: 71.5, lesionUm: 2600, lensFactor: 1.5, lineMl: 1.5 };

describe('what is printed', () => {
  test('has every figure that is promised, finite, and cautions that are sentences', () => {
    const plan = reckoned(whole);
    for (const field of PROMISED) expect(plan[field], field).toSatisfy(Number.isFinite);
    expect(plan.cautions.every((caution) => /^[A-Z].*\.$/.test(caution))).toBe(true);
    expect(plan.cautions[0]).toMatch(/checked by a second qualified person/);
  });

  test('without a lesion has no light on a lesion, and says so by null', () => {
    const plan = reckoned({ heightCm: 168, weightKg: 71.5 });
    for (const field of PROMISED) {
      if (LIGHT_ON_A_LESION.includes(field)) expect(plan[field], field).toBeNull();
      else expect(plan[field], field).toSatisfy(Number.isFinite);
    }
  });

  test('is not rounded but where a syringe rounds', () => {
    const plan = reckoned(whole);
    const areaM2 = Math.sqrt((168 * 71.5) / 3600);
    expect(plan.bodySurfaceAreaM2).toBe(areaM2);
    expect(plan.doseMg).toBeCloseTo(6 * areaM2, 12);
    expect(plan.drugMl).toBeCloseTo(3 * areaM2, 12);
    expect(plan.drugMlRounded).toBe(5.5);
    expect(plan.setSpotUm).toBe(2400);
    expect(plan.areaCm2).toBeCloseTo((Math.PI / 4) * 0.36 ** 2, 15);
    expect(plan.powerMw).toBeCloseTo(600 * (Math.PI / 4) * 0.36 ** 2, 12);
    expect(plan.energyJ).toBeCloseTo(0.6 * (Math.PI / 4) * 0.36 ** 2 * 83, 12);
  });

  test('is the same for an order of fields that is not ours', () => {
    const turned = Object.fromEntries(Object.entries(whole).reverse());
    expect(reckoned(turned)).toEqual(reckoned(whole));
  });
});

describe('body surface area: unit tests of an open clinical-trial R package', () => {
  test.each([
    ['du-bois', 1.864],
    ['boyd', 1.905],
    ['gehan-george', 1.897],
    ['haycock', 1.895],
    ['mosteller', 1.882],
  ])('%s: 170 cm and 75 kg give %d m2', (formula, areaM2) => {
    expect(reckoned({ heightCm: 170, weightKg: 75, formula }).bodySurfaceAreaM2).toBeCloseTo(areaM2, 3);
  });

  test('Du Bois, 170 cm and 70 kg: 1.809708 m2 (documentation of an open pharmacokinetics R package)', () => {
    const plan = reckoned({ heightCm: 170, weightKg: 70, formula: 'du-bois' });
    expect(plan.bodySurfaceAreaM2).toBeCloseTo(1.809708, 6);
  });
});

/** EU-SmPC: 15 mg in 7.5 mL at 2 mg/mL; 6 mg/m2 in 30 mL over 10 min. Areas by heights and weights chosen for them. */
describe('drug and diluent, computed from the EU-SmPC', () => {
  const area140 = { heightCm: 147, weightKg: 48 };
  const area181 = { heightCm: 180, weightKg: 65.522 };
  const area200 = { heightCm: 180, weightKg: 80 };
  const scheme = { infusionMin: 10, lightStartMin: 15, fluenceJPerCm2: 50, irradianceMwPerCm2: 600 };
  test.each([
    [1.4, 6, area140, 8.4, 4.2, 25.8],
    [1.4, 3, area140, 4.2, 2.1, 27.9],
    [1.4, 2, area140, 2.8, 1.4, 28.6],
    [1.81, 6, area181, 10.86, 5.43, 24.57],
    [1.81, 2, area181, 3.62, 1.81, 28.19],
    [2, 6, area200, 12, 6, 24],
    [2, 3, area200, 6, 3, 27],
    [2, 2, area200, 4, 2, 28],
  ])('%d m2 at %d mg/m2', (areaM2, doseMgPerM2, body, doseMg, drugMl, diluentMl) => {
    const plan = reckoned({ ...body, ...scheme, doseMgPerM2, graduationMl: 0.01 });
    expect(plan.bodySurfaceAreaM2).toBeCloseTo(areaM2, 9);
    expect(plan.doseMg).toBeCloseTo(doseMg, 9);
    expect(plan.drugMl).toBeCloseTo(drugMl, 9);
    expect(plan.drugMlRounded).toBe(drugMl);
    expect(plan.diluentMl).toBe(diluentMl);
    expect(plan.doseAfterRoundingMg).toBeCloseTo(drugMl * 2, 9);
    expect(plan.vials).toBe(1);
  });

  test('2.5 m2 at the label dose empties one vial and leaves nothing for loss; a little more takes two', () => {
    const exact = reckoned({ heightCm: 180, weightKg: 125 });
    expect(exact.drugMlRounded).toBe(7.5);
    expect(exact.vials).toBe(1);
    expect(exact.cautions.join(' ')).toContain('leaves nothing in the vial');
    const more = reckoned({ heightCm: 180, weightKg: 130 });
    expect(more.vials).toBe(2);
    expect(more.cautions.join(' ')).toContain('takes 2 vials');
  });

  test('a pump at 3 mL/min (monograph of the US prescribing information) = 180 mL/h', () => {
    const plan = reckoned({ heightCm: 170, weightKg: 70 });
    expect(plan.rateMlPerMin).toBe(3);
    expect(plan.rateMlPerH).toBe(180);
  });

  test('over 8 min (Chan et al, Ophthalmology 2008;115:1756) 30 mL take 3.75 mL/min = 225 mL/h; light at 10 min', () => {
    const plan = reckoned({ heightCm: 170, weightKg: 70, regimen: 'half-dose-10' });
    expect(plan.rateMlPerMin).toBe(3.75);
    expect(plan.rateMlPerH).toBe(225);
    expect(plan.lightStartS).toBe(600);
  });

  test('160 cm and 100 kg: the formulas run from 12.09 to 13.12 mg, and the plan says so', () => {
    const { cautions } = reckoned({ heightCm: 160, weightKg: 100 });
    expect(cautions.join(' ')).toContain('from 12.09 mg (Du Bois) to 13.12 mg (Boyd)');
  });
});

/** Computed: a line of V mL, primed from the syringe, ends a pump of 3 mL/min V/3 min early and keeps V/30 back. */
describe('the line', () => {
  test.each([
    [0, 600, 0],
    [0.5, 590, 1.7],
    [1, 580, 3.3],
    [1.5, 570, 5],
    [2, 560, 6.7],
    [3, 540, 10],
    [5, 500, 16.7],
  ])('of %d mL ends the pump at %d s with %d %% of the dose still in it', (lineMl, pumpEndS, percent) => {
    const plan = reckoned({ heightCm: 180, weightKg: 80, lineMl });
    expect(plan.lineMl).toBe(lineMl);
    expect(plan.pumpEndS).toBeCloseTo(pumpEndS, 9);
    const inLineMg = plan.doseAfterRoundingMg - plan.doseAtPumpEndMg;
    expect((inLineMg / plan.doseAfterRoundingMg) * 100).toBeCloseTo(percent, 1);
  });
});

describe('light', () => {
  /** Power of an even spot, computed: irradiance times pi/4 times the diameter squared. */
  test.each([
    [1000, 2000, 0.03142, 18.8, 1.56],
    [2000, 3000, 0.07069, 42.4, 3.52],
    [3000, 4000, 0.12566, 75.4, 6.26],
    [5000, 6000, 0.28274, 169.6, 14.08],
    [5400, 6400, 0.3217, 193.0, 16.02],
  ])(
    'a lesion of %d um has a spot of %d um (US prescribing information: 1000 um more), with its area and power',
    (lesionUm, spotUm, areaCm2, powerMw, energyJ) => {
      const plan = reckoned({ heightCm: 170, weightKg: 70, lesionUm });
      expect(plan.spotUm).toBe(spotUm);
      expect(plan.areaCm2).toBeCloseTo(areaCm2, 5);
      expect(plan.powerMw).toBeCloseTo(powerMw, 1);
      expect(plan.energyJ).toBeCloseTo(energyJ, 2);
      expect(plan.cautions.join(' ')).not.toContain('largest used in the trials');
    },
  );

  test('a spot over 6400 um, the largest of the trials (review, PMC2274995), is said to be', () => {
    const { cautions } = reckoned({ heightCm: 170, weightKg: 70, lesionUm: 5401 });
    expect(cautions.join(' ')).toContain('The spot of 6401 um is over 6400 um');
  });

  test.each([
    [2.5, 4000],
    [2.4, 4125],
    [2.6, 3885],
  ])(
    '7.5 mm on an image at %d times (US prescribing information: divide by it) makes a spot of %d um',
    (cameraMagnification, spotUm) => {
      const plan = reckoned({ heightCm: 170, weightKg: 70, imageMm: 7.5, cameraMagnification });
      expect(Math.round(plan.spotUm)).toBe(spotUm);
      expect(plan.cautions.join(' ')).not.toContain('fundus camera');
    },
  );

  test('a camera outside the 2.4 to 2.6 times of the product texts is pointed out', () => {
    const { cautions } = reckoned({ heightCm: 170, weightKg: 70, imageMm: 7.5, cameraMagnification: 2.7 });
    expect(cautions.join(' ')).toContain('2.4 to 2.6 times; this one is 2.7');
  });

  test.each([
    [1.08, 'three-mirror'],
    [1.05, 'high magnification'],
    [1.41, 'wide field'],
    [1.53, 'wide field'],
  ])(
    'a lens of factor %d (Mainster et al, Br J Ophthalmol 1990;74:177, %s) divides the set spot by it',
    (lensFactor) => {
      const plan = reckoned({ heightCm: 170, weightKg: 70, lesionUm: 3000, lensFactor });
      expect(plan.setSpotUm * lensFactor).toBeCloseTo(4000, 9);
    },
  );

  test.each([
    ['label', 6, 900, 50, 600, 83, 'EU-SmPC'],
    ['half-dose-15', 3, 900, 50, 600, 83, 'van Dijk et al, Ophthalmology 2018;125:1547'],
    ['half-dose-10', 3, 600, 50, 600, 83, 'Chan et al, Ophthalmology 2008;115:1756'],
    ['half-fluence', 6, 900, 25, 300, 83, 'VIM trial, ARVO abstracts'],
    ['half-time', 6, 900, 25, 600, 42, 'Am J Ophthalmol 2016, PMID 27084002'],
  ])(
    '%s: %d mg/m2, light at %d s, %d J/cm2 at %d mW/cm2 for %d s (%s)',
    (regimen, mgPerM2, lightStartS, fluence, irradiance, exposureS) => {
      const plan = reckoned({ heightCm: 170, weightKg: 70, regimen });
      expect(plan.doseMg / plan.bodySurfaceAreaM2).toBeCloseTo(mgPerM2, 12);
      expect(plan).toMatchObject({ lightStartS, fluenceJPerCm2: fluence, irradianceMwPerCm2: irradiance, exposureS });
      expect(plan.cautions.join(' ').includes('off-label')).toBe(regimen !== 'label');
    },
  );

  /** Computed: the seconds that a fluence takes at an irradiance. */
  test.each([
    [50, 600, 83.33],
    [25, 600, 41.67],
    [25, 300, 83.33],
    [100, 600, 166.67],
  ])("a scheme of one's own: %d J/cm2 at %d mW/cm2 takes %d s", (fluenceJPerCm2, irradianceMwPerCm2, seconds) => {
    const scheme = { doseMgPerM2: 6, infusionMin: 10, lightStartMin: 15, fluenceJPerCm2, irradianceMwPerCm2 };
    const plan = reckoned({ heightCm: 170, weightKg: 70, ...scheme });
    expect(plan.exposureS).toBeCloseTo(seconds, 2);
    expect(plan.cautions.join(' ')).toContain('off-label');
  });
});

describe('a request that cannot be computed is refused by its field, its value and what is allowed', () => {
  const body = { heightCm: 170, weightKg: 70 };
  const scheme = { doseMgPerM2: 6, infusionMin: 10, lightStartMin: 15, fluenceJPerCm2: 50, irradianceMwPerCm2: 600 };
  const { lightStartMin: _left, ...half } = scheme;
  const image = { ...body, imageMm: 7.5 };

  test.each<[string, unknown, string, unknown, RegExp]>([
    ['an unknown field', { ...body, hight: 170 }, 'hight', 170, /no such field.*heightCm/],
    ['an unknown field named like a built-in', { ...body, constructor: 1 }, 'constructor', 1, /no such field/],
    ['a string for a number', { ...body, weightKg: '70' }, 'weightKg', '70', /a number from 10 to 350 kg/],
    ['a word for a number', { ...body, heightCm: 'NaN' }, 'heightCm', 'NaN', /a number from 50 to 250 cm/],
    ['a truth for a number', { ...body, heightCm: true }, 'heightCm', true, /a number from 50 to 250 cm/],
    ['null for a number', { ...body, heightCm: null }, 'heightCm', null, /a number from 50 to 250 cm/],
    ['a list for a number', { ...body, heightCm: [170] }, 'heightCm', [170], /a number from 50 to 250 cm/],
    ['null for a regimen', { ...body, regimen: null }, 'regimen', null, /one of: label/],
    ['metres for centimetres', { ...body, heightCm: 1.7 }, 'heightCm', 1.7, /50 to 250 cm/],
    ['a height above', { ...body, heightCm: 250.1 }, 'heightCm', 250.1, /50 to 250 cm/],
    ['grams for kilograms', { ...body, weightKg: 70_000 }, 'weightKg', 70_000, /10 to 350 kg/],
    ['a negative weight', { ...body, weightKg: -70 }, 'weightKg', -70, /10 to 350 kg/],
    ['no weight', { heightCm: 170 }, 'weightKg', null, /10 to 350 kg/],
    ['no height', { weightKg: 70 }, 'heightCm', null, /50 to 250 cm/],
    ['nothing at all', {}, 'heightCm', null, /50 to 250 cm/],
    ['a formula that is none', { ...body, formula: 'mean' }, 'formula', 'mean', /mosteller, du-bois, haycock/],
    ['a regimen that is none', { ...body, regimen: 'double' }, 'regimen', 'double', /one of: label, half-dose-15/],
    ['half a scheme', { ...body, ...half }, 'lightStartMin', null, /needed with doseMgPerM2/],
    ['a regimen and a scheme', { ...body, ...scheme, regimen: 'label' }, 'regimen', 'label', /not both/],
    ['light before the end', { ...body, ...scheme, lightStartMin: 9 }, 'lightStartMin', 9, /not before.*10 min/],
    ['no dose', { ...body, ...scheme, doseMgPerM2: 0 }, 'doseMgPerM2', 0, /0.5 to 12 mg\/m2/],
    ['an image without magnification', image, 'cameraMagnification', null, /needed with imageMm/],
    ['magnification without an image', { ...body, cameraMagnification: 2.5 }, 'imageMm', null, /needed with camera/],
    ['image and lesion', { ...image, cameraMagnification: 2.5, lesionUm: 3000 }, 'imageMm', 7.5, /not both/],
    ['an image too large', { ...body, imageMm: 60, cameraMagnification: 1 }, 'imageMm', 60, /100 to 12000 um/],
    ['a lens without a lesion', { ...body, lensFactor: 1.5 }, 'lesionUm', null, /needed with lensFactor/],
    ['millimetres for micrometres', { ...body, lesionUm: 2.6 }, 'lesionUm', 2.6, /100 to 12000 um/],
    ['a lens factor of nought', { ...body, lesionUm: 2600, lensFactor: 0 }, 'lensFactor', 0, /0.5 to 3/],
    ['a line as long as a set', { ...body, lineMl: 25 }, 'lineMl', 25, /0 to 20 mL/],
    ['a graduation of nought', { ...body, graduationMl: 0 }, 'graduationMl', 0, /0.01 to 1 mL/],
    ['a list', [body], 'request', [body], /object/],
    ['null', null, 'request', null, /object/],
    ['a number', 170, 'request', 170, /object/],
    ['a string', 'label', 'request', 'label', /object/],
  ])('%s', (_what, request, field, value, allowed) => {
    const error = refusalOf(request);
    expect(error).toMatchObject({ field, value });
    expect(error.allowed).toMatch(allowed);
    expect(error.message).toBe(`${field}: ${JSON.stringify(value)} is not possible; allowed is ${error.allowed}`);
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])('%d', (heightCm) => {
    expect(refusalOf({ ...body, heightCm })).toMatchObject({ field: 'heightCm', value: String(heightCm) });
  });

  test('a field named __proto__', () => {
    expect(refusalOf(JSON.parse('{"heightCm": 170, "weightKg": 70, "__proto__": 1}'))).toMatchObject({
      field: '__proto__',
      value: 1,
    });
  });

  test('nothing', () => {
    expect(refusalOf(undefined).field).toBe('request');
  });

  function refusalOf(request: unknown): BadRequest {
    try {
      reckon(request);
    } catch (error) {
      if (error instanceof BadRequest) return error;
      throw error;
    }
    throw new Error('this request was computed');
  }
});

test('whatever a request that is taken says, every figure of its plan is finite', () => {
  const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const request = fc
    .record(
      {
        heightCm: within(50, 250),
        weightKg: within(10, 350),
        regimen: fc.constantFrom('label', 'half-dose-15', 'half-dose-10', 'half-fluence', 'half-time'),
        formula: fc.constantFrom('mosteller', 'du-bois', 'haycock', 'gehan-george', 'boyd'),
        lineMl: within(0, 20),
        graduationMl: within(0.01, 1),
        lesionUm: within(100, 12_000),
      },
      { requiredKeys: ['heightCm', 'weightKg', 'lesionUm'] },
    )
    .map((one) => ({ ...one, lensFactor: 1.5 }));
  fc.assert(
    fc.property(request, (one) => {
      const plan = takenAsPlan(one);
      // The dose of a very small body may be less than half a mark of a coarse syringe.
      fc.pre(plan !== null);
      for (const field of PROMISED) expect(plan[field], field).toSatisfy(Number.isFinite);
      expect(plan.drugMlRounded + plan.diluentMl).toBeCloseTo(30, 6);
      expect(plan.doseAtPumpEndMg).toBeLessThanOrEqual(plan.doseAfterRoundingMg + 1e-9);
    }),
  );
});

function takenAsPlan(request: object): Plan | null {
  try {
    return reckoned(request);
  } catch (error) {
    if (error instanceof BadRequest && error.allowed.includes('less than half a graduation')) return null;
    throw error;
  }
}
