import { explained } from './explained.ts';
import { SETTING_NAMES, type SettingName, type SettingValue } from './names.ts';

/** A setting's value as people read it: `0.1 mL`, `US`, `asked each time`. */
export function valueWords(name: SettingName, value: SettingValue): string {
  const { entry, none } = explained(name);
  if (value === null) return none ?? 'none';
  if (entry.as === 'choice') return entry.choices[choiceOf(value)]?.words ?? String(value);
  if (entry.as === 'figure') return `${figureText(name, Number(value))} ${entry.unit}`;
  return String(value);
}

/** Stands for null among choices. */
export const NONE_CHOSEN = 'none';

/** A value as it stands in the field of a form: what is typed there, or the choice that is made. */
export function typedOf(name: SettingName, value: SettingValue): string {
  const { entry } = explained(name);
  if (value === null) return entry.as === 'choice' ? NONE_CHOSEN : '';
  if (entry.as === 'choice') return choiceOf(value);
  return entry.as === 'figure' ? figureText(name, Number(value)) : String(value);
}

const choiceOf = (value: SettingValue): string => (typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value));

/** The figure alone, as it is typed: a share times a hundred. */
export function figureText(name: SettingName, value: number): string {
  const { entry } = explained(name);
  const shown = entry.as === 'figure' && entry.percent === true ? value * 100 : value;
  // A share times a hundred is off in its last digits, which nobody typed.
  return String(Number(shown.toPrecision(12)));
}

/** `syringe is graduated in: 0.1 mL → 0.2 mL`. Also of a setting that this version does not know. */
export function changeWords({ name, before, after }: { name: string; before: unknown; after: unknown }): string {
  const known = SETTING_NAMES.find((one) => one === name);
  if (known === undefined) return `${name}: ${JSON.stringify(before)} → ${JSON.stringify(after)}`;
  const words = (value: unknown): string => valueWords(known, value as SettingValue);
  return `${explained(known).words}: ${words(before)} → ${words(after)}`;
}
