import { describe, expect, test } from 'vitest';
import { DEFAULT_REGIMEN_ID, REGIMENS, regimenById, regimenSchema } from '../../core/regimen/regimens.ts';

describe('the table of regimens', () => {
  test.each(REGIMENS)('$id is a regimen as the schema wants it', (regimen) => {
    expect(regimenSchema.parse(regimen)).toEqual(regimen);
  });

  test('no two regimens share an id or a name', () => {
    expect(new Set(REGIMENS.map(({ id }) => id)).size).toBe(REGIMENS.length);
    expect(new Set(REGIMENS.map(({ name }) => name)).size).toBe(REGIMENS.length);
  });

  test('only the label is on label, and it is the default', () => {
    expect(REGIMENS.filter(({ onLabel }) => onLabel).map(({ id }) => id)).toEqual([DEFAULT_REGIMEN_ID]);
  });

  test('an off-label regimen with a 20 min limit says that the limit is local practice', () => {
    const withLimit = REGIMENS.filter((regimen) => !regimen.onLabel && regimen.secondEyeLimitMin !== null);
    expect(withLimit.map(({ id }) => id)).toEqual(['half-dose-15', 'half-fluence', 'half-time']);
    for (const { sources } of withLimit) {
      expect(sources.filter(({ text }) => text.startsWith('Second eye')).map(({ sure }) => sure)).toEqual(['local']);
    }
  });

  test('every off-label regimen owns up to the figures that are from memory', () => {
    const frank = REGIMENS.filter(({ sources }) => sources.some(({ sure }) => sure === 'memory'));
    expect(frank.map(({ id }) => id)).toEqual(REGIMENS.filter(({ onLabel }) => !onLabel).map(({ id }) => id));
  });
});

test('asking for a regimen that is not offered lists those that are', () => {
  expect(() => regimenById('one-third-dose')).toThrow(RangeError);
  expect(() => regimenById('one-third-dose')).toThrow(
    'No regimen is called "one-third-dose"; choose one of: label, half-dose-15, half-dose-10, half-fluence, half-time.',
  );
});

describe('the schema refuses a regimen', () => {
  const label = regimenById('label');
  const pathsRefused = (change: object) =>
    regimenSchema.safeParse({ ...label, ...change }).error?.issues.map(({ path }) => path.join('.'));

  test('whose light starts before the infusion ends', () => {
    expect(pathsRefused({ lightStartMin: 9 })).toEqual(['lightStartMin']);
  });

  test('whose fluence is not irradiance times seconds', () => {
    expect(pathsRefused({ fluenceJPerCm2: 25 })).toEqual(['fluenceJPerCm2']);
  });

  test('whose second eye is due before the first', () => {
    expect(pathsRefused({ secondEyeLimitMin: 14 })).toEqual(['secondEyeLimitMin']);
  });

  test('without a source', () => {
    expect(pathsRefused({ sources: [] })).toEqual(['sources']);
  });

  test('with a field it does not know', () => {
    expect(regimenSchema.safeParse({ ...label, doseMg: 6 }).success).toBe(false);
  });
});
