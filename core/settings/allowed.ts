import { z } from 'zod';
import { explained } from './explained.ts';
import { limitsSchema } from './limits.ts';
import type { SettingName, SettingValue } from './names.ts';
import { settingsSchema } from './settings.ts';
import { figureText, NONE_CHOSEN } from './value-words.ts';

/** What may be entered for a setting, in words: `0.01 to 1 mL, in hundredths of a mL`. The figures are the schema's. */
export function allowedWords(name: SettingName): string {
  const { entry, none } = explained(name);
  const empty = none === undefined ? '' : `; empty for “${none}”`;
  if (entry.as === 'choice') return 'one of those named, by its number';
  if (entry.as === 'text') return `${entry.allowed}${empty}`;
  const { min, max } = boundsOf(name);
  const steps = entry.steps === undefined ? '' : `, ${entry.steps}`;
  return `${figureText(name, min)} to ${figureText(name, max)} ${entry.unit}${steps}${empty}`;
}

/** The same for a file, where values stand as JSON: `"us" or "eu"`, `0.005 to 0.5`. */
export function allowedInFile(name: SettingName): string {
  const { entry, none } = explained(name);
  const orNull = none === undefined ? '' : `, or null for “${none}”`;
  if (entry.as === 'text') return `${entry.allowed}${orNull}`;
  if (entry.as === 'choice') {
    const choices = Object.keys(entry.choices).map((choice) => YES_NO[choice] ?? choice);
    return `one of ${choices.map((choice) => JSON.stringify(choice)).join(', ')}${orNull}`;
  }
  const { min, max } = boundsOf(name);
  const unit = entry.percent === true ? 'as a share' : `${entry.unit}, without the unit`;
  return `${min} to ${max} ${unit}${entry.steps === undefined ? '' : `, ${entry.steps}`}${orNull}`;
}

export type ReadSetting =
  | { readonly ok: true; readonly value: SettingValue }
  | { readonly ok: false; readonly says: string };

/** What was typed or chosen for a setting as its value, or what would be allowed. */
export function readSetting(name: SettingName, typed: string): ReadSetting {
  const read = schemaOf(name).safeParse(valueTyped(name, typed.trim()));
  if (read.success) return { ok: true, value: read.data as SettingValue };
  return { ok: false, says: `allowed: ${allowedWords(name)}` };
}

/** The schema of one setting alone. */
export function schemaOf(name: SettingName): z.ZodType {
  const [outer, inner] = name.split('.');
  return inner === undefined
    ? settingsSchema.shape[outer as keyof typeof settingsSchema.shape]
    : limitsSchema.shape[inner as keyof typeof limitsSchema.shape];
}

function valueTyped(name: SettingName, typed: string): SettingValue | undefined {
  const { entry, none } = explained(name);
  if (none !== undefined && typed === (entry.as === 'choice' ? NONE_CHOSEN : '')) return null;
  // Left out, the schema would put its default there, which nobody chose.
  if (typed === '') return '';
  if (entry.as === 'text') return typed;
  if (entry.as === 'choice') return 'yes' in entry.choices ? (YES_NO[typed] ?? typed) : typed;
  if (!/^\d*[.,]?\d+$|^\d+[.,]$/.test(typed)) return typed;
  const figure = Number(typed.replace(',', '.'));
  return entry.percent === true ? Number((figure / 100).toPrecision(12)) : figure;
}

const YES_NO: Readonly<Record<string, boolean>> = { yes: true, no: false };

/** The schema's own limits of a figure. @throws Error where the schema sets none. */
function boundsOf(name: SettingName): { min: number; max: number } {
  let schema: unknown = schemaOf(name);
  while (schema instanceof z.ZodDefault || schema instanceof z.ZodNullable) schema = schema.unwrap();
  if (!(schema instanceof z.ZodNumber) || schema.minValue === null || schema.maxValue === null) {
    throw new Error(`the setting ${name} is no figure with limits`);
  }
  return { min: schema.minValue, max: schema.maxValue };
}
