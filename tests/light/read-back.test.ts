import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type PlannedLight, readBack, type ShownLight } from '../../core/light/read-back.ts';

const planned: PlannedLight = {
  spotUm: 4500,
  irradianceMwPerCm2: 600,
  exposureS: 83,
  lensFactor: 1.5,
  setSpotUm: 3000,
};
const asPlanned = { setSpotUm: 3000, lensFactor: 1.5, seconds: 83, irradianceMwPerCm2: 600 };
const saysOf = (shown: ShownLight, lensOnEyeFactor = 1.5) => readBack({ planned, shown, lensOnEyeFactor }).says;

test('settings as planned agree, and the sentence says what they give', () => {
  const back = readBack({ planned, shown: asPlanned });
  expect(back).toMatchObject({ retinalSpotUm: 4500, retinalIrradianceMwPerCm2: 600, agrees: true });
  expect(back.fluenceJPerCm2).toBeCloseTo(49.8, 9);
  expect(back.says).toBe('The laser agrees with the plan: on the retina 4500 um at 600 mW/cm2 for 83 s, 49.8 J/cm2.');
});

test('83.33 s is the same prescription as 83 s', () => {
  expect(readBack({ planned, shown: { ...asPlanned, seconds: 83.33 } }).agrees).toBe(true);
});

test('seconds that differ are named with the fluence they give', () => {
  expect(saysOf({ ...asPlanned, seconds: 42 })).toBe(
    'The laser does not agree with the plan: exposure 42 s instead of 83 (49 % low); ' +
      'fluence 25.2 J/cm2 instead of 49.8 (49 % low).',
  );
});

test('a set spot that differs is named even where irradiance and time are right', () => {
  expect(saysOf({ ...asPlanned, setSpotUm: 4500 })).toBe(
    'The laser does not agree with the plan: spot on the retina 6750 um instead of 4500 (50 % high).',
  );
});

test('two errors that cancel in the fluence still do not agree', () => {
  const back = readBack({ planned, shown: { ...asPlanned, irradianceMwPerCm2: 300, seconds: 166 } });
  expect(back.errors.fluence).toBeCloseTo(0, 9);
  expect(back.agrees).toBe(false);
});

test('irradiance and seconds each 0.9 % high make a fluence 1.8 % high, which does not agree', () => {
  const back = readBack({ planned, shown: { ...asPlanned, irradianceMwPerCm2: 605.4, seconds: 83.747 } });
  expect(back.agrees).toBe(false);
  expect(back.says).toBe('The laser does not agree with the plan: fluence 50.7 J/cm2 instead of 49.8 (2 % high).');
});

test('exactly 1 % agrees and a little more does not', () => {
  expect(readBack({ planned, shown: { ...asPlanned, setSpotUm: 3030 } }).agrees).toBe(true);
  expect(readBack({ planned, shown: { ...asPlanned, seconds: 83.83 } }).agrees).toBe(true);
  expect(readBack({ planned, shown: { ...asPlanned, seconds: 82.17 } }).agrees).toBe(true);
  expect(readBack({ planned, shown: { ...asPlanned, setSpotUm: 3031 } }).agrees).toBe(false);
});

describe('the lens on the eye', () => {
  test('that differs from the factor entered is named with all that follows from it', () => {
    expect(saysOf(asPlanned, 1.96)).toBe(
      'The laser does not agree with the plan: lens factor entered 1.5 instead of 1.96 (23 % low); ' +
        'spot on the retina 5880 um instead of 4500 (31 % high); irradiance 351 mW/cm2 instead of 600 (41 % low); ' +
        'fluence 29.2 J/cm2 instead of 49.8 (41 % low).',
    );
  });

  test('is the planned lens unless another is named, so a wrong entry changes the irradiance the same way', () => {
    const lensPlanned = { ...planned, lensFactor: 1.96, setSpotUm: 4500 / 1.96 };
    const back = readBack({ planned: lensPlanned, shown: { ...asPlanned, setSpotUm: 4500 / 1.96 } });
    expect(back.retinalSpotUm).toBeCloseTo(4500, 6);
    expect(Math.round(back.retinalIrradianceMwPerCm2)).toBe(351);
  });

  test('may be another than planned when the laser was set up for it', () => {
    const shown = { setSpotUm: 4500 / 1.96, lensFactor: 1.96, seconds: 83, irradianceMwPerCm2: 600 };
    expect(readBack({ planned, shown, lensOnEyeFactor: 1.96 }).agrees).toBe(true);
  });
});

describe('a laser that shows power', () => {
  test('spreads it over the spot on the retina', () => {
    const powerMw = 600 * (Math.PI / 4) * 0.45 ** 2;
    const back = readBack({ planned, shown: { setSpotUm: 3000, lensFactor: 1.5, seconds: 83, powerMw } });
    expect(back.retinalIrradianceMwPerCm2).toBeCloseTo(600, 9);
    expect(back.agrees).toBe(true);
  });

  test('says the same as one that shows irradiance, for the same lens and spot', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 500, max: 5000, noNaN: true }),
        fc.double({ min: 1, max: 2, noNaN: true }),
        fc.double({ min: 1, max: 2, noNaN: true }),
        fc.double({ min: 100, max: 1000, noNaN: true }),
        (setSpotUm, entered, lensOnEyeFactor, irradianceMwPerCm2) => {
          const areaBelievedCm2 = (Math.PI / 4) * ((setSpotUm * entered) / 10_000) ** 2;
          const settings = { setSpotUm, lensFactor: entered, seconds: 83 };
          const byIrradiance = readBack({ planned, shown: { ...settings, irradianceMwPerCm2 }, lensOnEyeFactor });
          const powerMw = irradianceMwPerCm2 * areaBelievedCm2;
          const byPower = readBack({ planned, shown: { ...settings, powerMw }, lensOnEyeFactor });
          expect(byPower.retinalIrradianceMwPerCm2).toBeCloseTo(byIrradiance.retinalIrradianceMwPerCm2, 6);
        },
      ),
    );
  });
});

describe('a figure that no laser would show is refused', () => {
  test.each<[Partial<typeof asPlanned>, string]>([
    [{ setSpotUm: 3 }, 'Set spot must be 50 to 20000 um, not 3 um'],
    [{ lensFactor: 15 }, 'Lens factor entered must be 0.5 to 3, not 15'],
    [{ seconds: 0 }, 'Exposure must be above 0 s, not 0 s'],
    [{ irradianceMwPerCm2: Number.NaN }, 'Irradiance must be above 0 mW/cm2, not NaN mW/cm2'],
  ])('%o', (change, sentence) => {
    expect(() => readBack({ planned, shown: { ...asPlanned, ...change } })).toThrow(RangeError);
    expect(() => readBack({ planned, shown: { ...asPlanned, ...change } })).toThrow(sentence);
  });

  test('nor a power of zero, nor a lens on the eye of zero', () => {
    const power = { setSpotUm: 3000, lensFactor: 1.5, seconds: 83, powerMw: 0 };
    expect(() => readBack({ planned, shown: power })).toThrow('Power must be above 0 mW, not 0 mW');
    expect(() => readBack({ planned, shown: asPlanned, lensOnEyeFactor: 0 })).toThrow('Factor of the lens on the eye');
  });
});
