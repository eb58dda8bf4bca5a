import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  BODY_LIMITS,
  BSA_FORMULAS,
  type BsaFormulaId,
  bodySurfaceAreaSpread,
} from '../../core/dosing/body-surface-area.ts';
import { DOSE_CAUTION, formulaCautions, type PlanOrder, reckonPlan } from '../../core/dosing/plan.ts';
import { planSchema } from '../../core/dosing/plan-schema.ts';
import { readBack } from '../../core/light/read-back.ts';
import { LIGHT_LIMITS } from '../../core/light/spot.ts';
import { REGIMENS, regimenById } from '../../core/regimen/regimens.ts';

const ordinary: PlanOrder = {
  heightCm: 170,
  weightKg: 70,
  formula: 'mosteller',
  regimen: regimenById('label'),
  lesions: [{ eye: 'right', gldUm: 3000 }],
};

const order = fc.record({
  heightCm: fc.double({ ...BODY_LIMITS.heightCm, noNaN: true }),
  weightKg: fc.double({ ...BODY_LIMITS.weightKg, noNaN: true }),
  formula: fc.constantFrom(...(Object.keys(BSA_FORMULAS) as BsaFormulaId[])),
  regimen: fc.constantFrom(...REGIMENS),
  lesions: fc.uniqueArray(
    fc.record({
      eye: fc.constantFrom('right' as const, 'left' as const),
      gldUm: fc.double({ ...LIGHT_LIMITS.gldUm, noNaN: true }),
      lensFactor: fc.double({ min: 1, max: 2, noNaN: true }),
    }),
    { minLength: 1, maxLength: 2, selector: ({ eye }) => eye },
  ),
});

test('an ordinary label plan holds the dose, the light and no caution', () => {
  const plan = reckonPlan(ordinary);
  expect(plan.bodySurfaceAreaM2).toBeCloseTo(1.8181, 4);
  expect(plan.formula).toBe('mosteller');
  expect(plan.infusate).toMatchObject({ drugMlRounded: 5.5, diluentMl: 24.5, vials: 1, rateMlPerMin: 3 });
  expect(plan.light).toHaveLength(1);
  expect(plan.light[0]).toMatchObject({ eye: 'right', spotUm: 4000, exposureS: 83, fluenceJPerCm2: 50 });
  expect(plan.light[0]?.powerMw).toBeCloseTo(75.4, 1);
  expect(plan.light[0]?.energyJ).toBeCloseTo(6.26, 2);
  expect(plan.cautions).toEqual([]);
});

test('a plan is plain JSON that its schema takes and gives back unchanged', () => {
  fc.assert(
    fc.property(order, (ordered) => {
      const plan = reckonPlan(ordered);
      expect(planSchema.parse(JSON.parse(JSON.stringify(plan)))).toStrictEqual(plan);
    }),
  );
});

test('a plan without a lens has no set spot, not even an undefined one', () => {
  const [light] = reckonPlan(ordinary).light;
  expect(light).toBeDefined();
  expect(Object.keys(light ?? {})).not.toContain('setSpotUm');
  expect(Object.keys(light ?? {})).not.toContain('lensFactor');
});

test('a plan with a lens gives the spot to set', () => {
  const [light] = reckonPlan({ ...ordinary, lesions: [{ eye: 'left', gldUm: 3000, lensFactor: 1.6 }] }).light;
  expect(light).toMatchObject({ eye: 'left', lensFactor: 1.6, setSpotUm: 2500 });
});

test("reading back the plan's own settings shows no error, by irradiance and by power", () => {
  fc.assert(
    fc.property(order, (ordered) => {
      for (const light of reckonPlan(ordered).light) {
        const { spotUm, irradianceMwPerCm2, exposureS, lensFactor, setSpotUm, powerMw } = light;
        if (lensFactor === undefined || setSpotUm === undefined) throw new Error('this order names its lenses');
        const planned = { spotUm, irradianceMwPerCm2, exposureS, lensFactor, setSpotUm };
        for (const display of [{ irradianceMwPerCm2 }, { powerMw }]) {
          const back = readBack({ planned, shown: { setSpotUm, lensFactor, seconds: exposureS, ...display } });
          for (const error of Object.values(back.errors)) expect(error).toBeCloseTo(0, 9);
          expect(back.agrees).toBe(true);
        }
      }
    }),
  );
});

test('a taller or heavier patient gets no smaller dose', () => {
  // In tenths, as people are measured: a gain below what a double can tell apart may come out either way.
  const gain = fc.nat(200).map((tenths) => tenths / 10);
  fc.assert(
    fc.property(order, gain, gain, (ordered, tallerCm, heavierKg) => {
      const heightCm = Math.min(BODY_LIMITS.heightCm.max, ordered.heightCm + tallerCm);
      const weightKg = Math.min(BODY_LIMITS.weightKg.max, ordered.weightKg + heavierKg);
      const before = reckonPlan(ordered).infusate;
      const after = reckonPlan({ ...ordered, heightCm, weightKg }).infusate;
      expect(after.doseMg).toBeGreaterThanOrEqual(before.doseMg);
      expect(after.drugMlRounded).toBeGreaterThanOrEqual(before.drugMlRounded);
    }),
  );
});

test('a finer syringe is taken into account', () => {
  expect(reckonPlan({ ...ordinary, graduationMl: 0.01 }).infusate.drugMlRounded).toBe(5.45);
});

describe('the cautions', () => {
  const cautionsOf = (change: Partial<PlanOrder>) => reckonPlan({ ...ordinary, ...change }).cautions;

  test('name an off-label regimen', () => {
    expect(cautionsOf({ regimen: regimenById('half-fluence') })).toEqual([
      'Half fluence: off-label. The product text has 6 mg/m2 and 50 J/cm2 only.',
    ]);
  });

  test("name a spot over the trials' largest, and stay silent at it", () => {
    const lesions = [
      { eye: 'right', gldUm: 5400 },
      { eye: 'left', gldUm: 5500 },
    ] as const;
    expect(cautionsOf({ lesions })).toEqual([
      "The left eye's spot of 6500 um is over 6400 um, the largest used in the trials.",
    ]);
  });

  test('say when one vial leaves nothing over', () => {
    expect(cautionsOf({ heightCm: 180, weightKg: 125 })).toContain(
      '7.5 mL of drug leaves nothing in the vial for what is lost in drawing up.',
    );
  });

  test('take one mark of the syringe left in the vial for something', () => {
    const plan = reckonPlan({ ...ordinary, heightCm: 180, weightKg: 121.7 });
    expect(plan.infusate).toMatchObject({ drugMlRounded: 7.4, leftoverMl: 0.1 });
    expect(plan.cautions.join(' ')).not.toContain('leaves nothing');
  });

  test('say when a second vial is needed, and only then', () => {
    const second = '7.7 mL of drug takes 2 vials of 7.5 mL.';
    expect(cautionsOf({ heightCm: 190, weightKg: 125 })).toContain(second);
    expect(cautionsOf({ heightCm: 170, weightKg: 125 }).filter((caution) => caution.includes('vials'))).toEqual([]);
  });

  test('give the doses by the formulas that lie furthest apart, once they are over 5 % apart', () => {
    expect(cautionsOf({ heightCm: 160, weightKg: 100 })).toEqual([
      'The body surface area formulas are 8.1 % apart: from 12.09 mg (Du Bois) to 13.12 mg (Boyd).',
    ]);
  });

  test('stay silent where the formulas are apart by just the share that a site allows', () => {
    const spread = bodySurfaceAreaSpread(160, 100);
    expect(formulaCautions(spread, 6, spread.shareOfChosen)).toEqual([]);
    expect(formulaCautions(spread, 6, spread.shareOfChosen - 1e-9)).toHaveLength(1);
  });

  test.each([
    [2.3, true],
    [2.4, false],
    [2.6, false],
    [2.7, true],
  ])('name a fundus camera of %d times where the product texts do not recommend it: %s', (times, named) => {
    const lesions = [{ eye: 'right', gldUm: 3000, cameraMagnification: times }] as const;
    const sentence = `The product texts recommend a fundus camera of 2.4 to 2.6 times; this one is ${times}.`;
    expect(cautionsOf({ lesions })).toEqual(named ? [sentence] : []);
  });

  test('say that no limit is published for a second eye after light at 10 min', () => {
    const lesions = [
      { eye: 'right', gldUm: 2000 },
      { eye: 'left', gldUm: 2000 },
    ] as const;
    const sentence = 'Half dose, light at 10 min: no time limit is published for a second eye.';
    expect(cautionsOf({ regimen: regimenById('half-dose-10'), lesions })).toContain(sentence);
    expect(cautionsOf({ regimen: regimenById('half-dose-10') })).not.toContain(sentence);
    expect(cautionsOf({ lesions })).toEqual([]);
  });
});

describe('a plan that makes no sense is refused', () => {
  test('no eye', () => {
    expect(() => reckonPlan({ ...ordinary, lesions: [] })).toThrow('Give a lesion for each eye to be treated.');
  });

  test('the same eye twice', () => {
    const twice = [ordinary.lesions, ordinary.lesions].flat();
    expect(() => reckonPlan({ ...ordinary, lesions: twice })).toThrow('the same eye is there twice');
  });

  test('height in metres, or a lesion in millimetres', () => {
    expect(() => reckonPlan({ ...ordinary, heightCm: 1.7 })).toThrow('Height must be 50 to 250 cm');
    expect(() => reckonPlan({ ...ordinary, lesions: [{ eye: 'right', gldUm: 3 }] })).toThrow(
      'Greatest linear dimension must be 100 to 12000 um, not 3 um',
    );
  });
});

describe('the schema of the plan refuses', () => {
  const plan = reckonPlan(ordinary);

  test('a figure that is no number', () => {
    expect(planSchema.safeParse({ ...plan, bodySurfaceAreaM2: Number.NaN }).success).toBe(false);
  });

  test('a formula it does not know', () => {
    expect(planSchema.safeParse({ ...plan, formula: 'own' }).success).toBe(false);
  });

  test('a field it does not know', () => {
    expect(planSchema.safeParse({ ...plan, doseMg: 11 }).success).toBe(false);
  });
});

test('the caution for every screen asks for a second qualified person, the product text and local policy', () => {
  expect(DOSE_CAUTION).toBe(
    'Computed figures must be checked by a second qualified person against the current product text and local ' +
      'policy before drug is drawn up.',
  );
});
