import {
  HEIGHT_UNITS,
  type HeightUnit,
  questionsAbout,
  readHeightCm,
  readWeightKg,
  WEIGHT_UNITS,
  type WeightUnit,
} from '../../../core/dosing/body-entry.ts';
import { type Field, unitName, type Values } from '../../parts/field.ts';
import type { figureReader } from './entries.ts';

export const BODY_FIELDS: readonly Field[] = [
  { kind: 'figure', name: 'heightCm', words: 'height', units: HEIGHT_UNITS },
  { kind: 'figure', name: 'weightKg', words: 'weight', units: WEIGHT_UNITS },
];

export const EMPTY_BODY: Values = {
  heightCm: '',
  [unitName('heightCm')]: 'cm',
  weightKg: '',
  [unitName('weightKg')]: 'kg',
};

/** Height and weight as typed, in cm and kg, and what looks like a slip. Faults go to the reader. */
export function readBody(values: Values, reader: ReturnType<typeof figureReader>) {
  const heightUnit = HEIGHT_UNITS.find((unit) => unit === values[unitName('heightCm')]) ?? ('cm' satisfies HeightUnit);
  const weightUnit = WEIGHT_UNITS.find((unit) => unit === values[unitName('weightKg')]) ?? ('kg' satisfies WeightUnit);
  const heightCm = tidy(reader.read('heightCm', readHeightCm(values.heightCm ?? '', heightUnit)));
  const weightKg = tidy(reader.read('weightKg', readWeightKg(values.weightKg ?? '', weightUnit)));
  const whole = Number.isFinite(heightCm) && Number.isFinite(weightKg);
  const doubts = whole ? questionsAbout(heightCm, weightKg).map(({ says }) => says) : [];
  return { heightCm, weightKg, doubts };
}

/** Drops what a change of units leaves behind the third decimal. */
const tidy = (value: number): number => Number(value.toFixed(3));
