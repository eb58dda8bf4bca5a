import fc from 'fast-check';
import { explained } from '../../core/settings/explained.ts';
import { SETTING_NAMES, type SettingName, type SettingValue, settingsWith } from '../../core/settings/names.ts';
import { DEFAULT_SETTINGS, type Settings, settingsSchema } from '../../core/settings/settings.ts';

/** Values of one setting that the schema takes, by a list that was written beside it and not taken from it. */
const EDGES: Readonly<Partial<Record<SettingName, readonly SettingValue[]>>> = {
  graduationMl: [0.01, 0.05, 0.1, 0.2, 0.29, 0.57, 1],
  formulaSpreadShare: [0.005, 0.05, 0.07, 0.123, 0.5],
  lineMl: [null, 0, 0.7, 1.5, 20],
  copyFolder: [null, '/', '/mnt/copy of it', 'D:\\Kopie', 'x'.repeat(500)],
  latePressS: [0, 45, 120, 300],
  viewingDistanceM: [0.5, 2.35, 3, 10],
  boardWidthMm: [null, 100, 598.5, 5000],
  zone: [null, 'Europe/Zurich', 'America/New_York', 'UTC'],
  lightCareHours: [null, 24, 48, 120, 240],
  idleLockMin: [1, 15, 240],
  'limits.lightStartWithinS': [0, 30, 600],
  'limits.infusionWithinS': [0, 30, 600],
  'limits.flushWithinS': [0, 12.5, 600],
  'limits.leftInLineMaxMg': [0, 0.01, 20],
  'limits.inUseMaxMin': [1, 240, 1440],
  'limits.exposureWithinShare': [0, 0.004, 0.01, 0.29, 0.5],
  'limits.holdMaxS': [0, 90, 3600],
  'limits.latePressMaxS': [0, 60, 300],
  'limits.clockStepMaxS': [0, 2, 3600],
  'limits.cueLateMaxS': [0, 1, 60],
};

/** Every value that is tried of a setting: its edges, or all of its choices. */
export function valuesOf(name: SettingName): readonly SettingValue[] {
  const { entry, none } = explained(name);
  if (entry.as !== 'choice') return EDGES[name] ?? [];
  const choices = Object.keys(entry.choices).map((choice) =>
    choice === 'yes' || choice === 'no' ? choice === 'yes' : choice,
  );
  return none === undefined ? choices : [...choices, null];
}

/** Any settings that a site may have. */
export const anySettings: fc.Arbitrary<Settings> = fc
  .record(
    Object.fromEntries(SETTING_NAMES.map((name) => [name, fc.constantFrom(...valuesOf(name))])) as Record<
      SettingName,
      fc.Arbitrary<SettingValue>
    >,
  )
  .map((values) => settingsSchema.parse(settingsWith(DEFAULT_SETTINGS, values)));
