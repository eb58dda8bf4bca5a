import { describe, expect, test } from 'vitest';
import { SCREENING, type ScreeningQuestion } from '../../core/procedure/screening.ts';
import { PHOTOSENSITIVITY_HOURS } from '../../core/regimen/photosensitivity.ts';
import { allowedWords, readSetting, schemaOf } from '../../core/settings/allowed.ts';
import { settingCautions } from '../../core/settings/cautions.ts';
import { explained, settingsOfGroup } from '../../core/settings/explained.ts';
import { SETTING_GROUPS } from '../../core/settings/explanation.ts';
import { SETTING_NAMES, type SettingName, settingChanges, settingIn } from '../../core/settings/names.ts';
import { PROFILE_DIFFERENCES } from '../../core/settings/profile-texts.ts';
import { DEFAULT_SETTINGS, settingsSchema } from '../../core/settings/settings.ts';
import { changeWords, figureText, typedOf, valueWords } from '../../core/settings/value-words.ts';
import { valuesOf } from './any-settings.ts';

const FIGURES = SETTING_NAMES.filter((name) => explained(name).entry.as === 'figure');

describe('the table of settings', () => {
  test('has every setting of the schema in one group, and no other', () => {
    const grouped = SETTING_GROUPS.flatMap(({ id }) => settingsOfGroup(id));
    expect([...grouped].sort()).toEqual([...SETTING_NAMES].sort());
    const ofSchema = Object.keys(settingsSchema.shape).filter((name) => name !== 'limits');
    const ofLimits = Object.keys(DEFAULT_SETTINGS.limits).map((name) => `limits.${name}`);
    expect([...SETTING_NAMES].sort()).toEqual([...ofSchema, ...ofLimits].sort());
  });

  test('says of each what it is for and where its default comes from, each in words of its own', () => {
    const words = SETTING_NAMES.map((name) => explained(name).words);
    expect(new Set(words).size).toBe(SETTING_NAMES.length);
    for (const name of SETTING_NAMES) {
      const { about, source } = explained(name);
      expect(about, name).toMatch(/^[A-Z].{20,}\.$/s);
      expect(source.text, name).not.toBe('');
    }
  });

  test.each(SETTING_NAMES)('names nothing for %s exactly where the schema takes nothing', (name) => {
    expect(schemaOf(name).safeParse(null).success).toBe(explained(name).none !== undefined);
  });

  test.each(FIGURES)('lets %s be typed up to its limits, and beyond them says what is allowed', (name) => {
    const [, least = '', most = ''] = /^([\d.]+) to ([\d.]+) /.exec(allowedWords(name)) ?? [];
    expect(readSetting(name, least)).toMatchObject({ ok: true });
    expect(readSetting(name, most)).toMatchObject({ ok: true });
    const beyond = [String(Number(most) * 1.01 + 1), Number(least) > 0 ? String(Number(least) * 0.9) : '-1'];
    for (const typed of [...beyond, 'much', '1.2.3', '1e1', explained(name).none === undefined ? '' : 'none']) {
      expect(readSetting(name, typed), typed).toEqual({ ok: false, says: `allowed: ${allowedWords(name)}` });
    }
  });

  test.each(SETTING_NAMES)('reads %s back as it was shown in its field', (name) => {
    for (const value of [...valuesOf(name), settingIn(DEFAULT_SETTINGS, name)]) {
      expect(readSetting(name, typedOf(name, value)), String(value)).toEqual({ ok: true, value });
    }
  });

  test.each(SETTING_NAMES.filter((name) => explained(name).entry.as === 'choice'))(
    'takes no other word for %s',
    (name) => {
      for (const typed of ['', 'maybe', 'true', 'US']) expect(readSetting(name, typed)).toMatchObject({ ok: false });
    },
  );
});

describe('a setting', () => {
  test.each<[SettingName, string | number | boolean | null, string]>([
    ['graduationMl', 0.1, '0.1 mL'],
    ['formulaSpreadShare', 0.07, '7 %'],
    ['limits.exposureWithinShare', 0.29, '29 %'],
    ['lineMl', null, 'asked each time'],
    ['primedWith', 'diluent', 'dextrose 5 %'],
    ['spokenCues', false, 'no'],
    ['zone', null, 'this machine’s own'],
    ['copyFolder', '/mnt/copy', '/mnt/copy'],
  ])('%s of %s reads as people say it', (name, value, words) => {
    expect(valueWords(name, value)).toBe(words);
  });

  test('is typed with a decimal comma too, and a share as a percentage', () => {
    expect(readSetting('graduationMl', ' 0,05 ')).toEqual({ ok: true, value: 0.05 });
    expect(readSetting('formulaSpreadShare', '7')).toEqual({ ok: true, value: 0.07 });
    expect(figureText('formulaSpreadShare', 0.07)).toBe('7');
  });

  test('that is finer than volumes are printed is refused', () => {
    expect(readSetting('graduationMl', '0.025')).toEqual({
      ok: false,
      says: 'allowed: 0.01 to 1 mL, in hundredths of a mL',
    });
  });

  test('is told with what it was, also where this version does not know it', () => {
    expect(changeWords({ name: 'profile', before: 'us', after: 'eu' })).toBe('product text that is followed: US → EU');
    expect(changeWords({ name: 'lampColour', before: null, after: 3 })).toBe('lampColour: null → 3');
  });
});

describe('what follows from the product text', () => {
  const asked = (what: string) => PROFILE_DIFFERENCES.find((one) => one.what.includes(what))?.asks;

  test('is the hours of light care as they are computed with', () => {
    expect(asked('light precautions')).toEqual({
      us: `${PHOTOSENSITIVITY_HOURS.us} h`,
      eu: `${PHOTOSENSITIVITY_HOURS.eu} h`,
    });
  });

  test('is each screening question that the two texts weigh differently, and no other', () => {
    const differing = (SCREENING as readonly ScreeningQuestion[]).filter(({ effect }) => effect.us !== effect.eu);
    expect(differing).not.toHaveLength(0);
    const named = PROFILE_DIFFERENCES.filter(({ what }) => what.startsWith('screening: '));
    expect(named.map(({ what }) => what)).toEqual(differing.map(({ words }) => `screening: ${words}`));
    expect(asked('severe hepatic')?.eu).toMatch(/^contraindicated/);
    expect(asked('severe hepatic')?.us).toMatch(/^caution/);
  });
});

describe('a caution', () => {
  const cautionsOn = (changes: Partial<typeof DEFAULT_SETTINGS>) => {
    const after = { ...DEFAULT_SETTINGS, ...changes };
    return settingCautions(settingChanges(DEFAULT_SETTINGS, after), after);
  };

  test('is given where light care would be shorter than the product text has it', () => {
    expect(cautionsOn({ lightCareHours: 119 })[0]).toMatch(/^shorter than the 120 h/);
    expect(cautionsOn({ lightCareHours: 120 })).toEqual([]);
    expect(cautionsOn({ lightCareHours: 48, profile: 'eu' })).toEqual([]);
  });

  test('names the second person where the computed dose changes', () => {
    expect(cautionsOn({ formula: 'boyd' })[0]).toMatch(/second person checks/);
    expect(cautionsOn({ spokenCues: true })).toEqual([]);
  });
});
