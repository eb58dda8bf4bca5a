import { PHOTOSENSITIVITY_HOURS } from '../../core/regimen/photosensitivity.ts';
import { type Source, SURE_WORDS } from '../../core/regimen/source.ts';
import { allowedWords } from '../../core/settings/allowed.ts';
import { settingCautions } from '../../core/settings/cautions.ts';
import { explained } from '../../core/settings/explained.ts';
import { SETTING_GROUPS, TAKES_WORDS } from '../../core/settings/explanation.ts';
import { SETTING_NAMES, type SettingName, settingIn, settingsWith } from '../../core/settings/names.ts';
import { PROFILE_DIFFERENCES } from '../../core/settings/profile-texts.ts';
import { DEFAULT_SETTINGS, settingsSchema } from '../../core/settings/settings.ts';
import { valueWords } from '../../core/settings/value-words.ts';
import { valuesOf } from '../settings/any-settings.ts';

/** What the settings room is given to say: groups, each setting explained, its values, what is allowed, its cautions. */
export function settingWords(): readonly string[] {
  return [
    ...SETTING_GROUPS.map(({ words }) => words),
    ...SETTING_NAMES.flatMap((name) => [...explanationOf(name), ...valuesIn(name), ...cautionsOf(name)]),
    ...PROFILE_DIFFERENCES.flatMap(({ what, asks }) => [what, ...Object.values(asks)]),
  ];
}

function explanationOf(name: SettingName): readonly string[] {
  const { words, about, source, takes } = explained(name);
  return [words, about, sourceWords(source), TAKES_WORDS[takes], allowedWords(name), `allowed: ${allowedWords(name)}`];
}

const sourceWords = ({ text, sure }: Source): string => (sure === 'local' ? text : `${text} · ${SURE_WORDS[sure]}`);

/** Without what people typed. */
function valuesIn(name: SettingName): readonly string[] {
  const { entry, none } = explained(name);
  const values = [...valuesOf(name), settingIn(DEFAULT_SETTINGS, name)];
  const shown = values.filter((value) => value === null || entry.as !== 'text').map((value) => valueWords(name, value));
  const choices = entry.as === 'choice' ? Object.values(entry.choices) : [];
  return [
    ...shown,
    ...(none === undefined ? [] : [none]),
    ...(entry.as === 'figure' ? [entry.unit] : []),
    ...choices.flatMap(({ words, detail }) => (detail === undefined ? [words] : [words, detail])),
  ];
}

function cautionsOf(name: SettingName): readonly string[] {
  return PROFILES.flatMap((profile) =>
    valuesOf(name).flatMap((after) => {
      const settings = settingsSchema.parse(settingsWith({ ...DEFAULT_SETTINGS, profile }, { [name]: after }));
      return settingCautions([{ name, before: settingIn(DEFAULT_SETTINGS, name), after }], settings);
    }),
  );
}

const PROFILES = Object.keys(PHOTOSENSITIVITY_HOURS) as (keyof typeof PHOTOSENSITIVITY_HOURS)[];
