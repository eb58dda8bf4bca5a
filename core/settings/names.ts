import type { Limits } from './limits.ts';
import { DEFAULT_SETTINGS, type Settings } from './settings.ts';

/** A setting by the path of its value, for example `profile` or `limits.holdMaxS`. */
export type SettingName = Exclude<keyof Settings, 'limits'> | `limits.${keyof Limits}`;

export type SettingValue = string | number | boolean | null;

/** One setting as it was and as it is to be. */
export interface SettingChange {
  readonly name: SettingName;
  readonly before: SettingValue;
  readonly after: SettingValue;
}

export type SettingValues = Readonly<Partial<Record<SettingName, SettingValue>>>;

/** Every setting, in the order of the schema. */
export const SETTING_NAMES = Object.entries(DEFAULT_SETTINGS).flatMap(([name, value]) =>
  typeof value === 'object' && value !== null ? Object.keys(value).map((inner) => `${name}.${inner}`) : [name],
) as [SettingName, ...SettingName[]];

export function settingIn(settings: Settings, name: SettingName): SettingValue {
  const [outer, inner] = name.split('.');
  const value = settings[outer as keyof Settings];
  return typeof value === 'object' && value !== null ? value[inner as keyof Limits] : value;
}

/** The settings with some of them as given. Not checked: what comes out is to be parsed. */
export function settingsWith(settings: Settings, values: SettingValues): unknown {
  const next: Record<string, unknown> = { ...settings, limits: { ...settings.limits } };
  for (const [name, value] of Object.entries(values)) {
    const [outer = '', inner] = name.split('.');
    if (inner === undefined) next[outer] = value;
    else next[outer] = { ...(next[outer] as object), [inner]: value };
  }
  return next;
}

/** What is apart between two settings, in the order of the schema. */
export function settingChanges(before: Settings, after: Settings): SettingChange[] {
  return SETTING_NAMES.map((name) => ({
    name,
    before: settingIn(before, name),
    after: settingIn(after, name),
  })).filter((change) => change.before !== change.after);
}
