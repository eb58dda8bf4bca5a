import {
  type BodyQuestionId,
  HEIGHT_UNITS,
  type HeightUnit,
  questionsAbout,
  readHeightCm,
  readWeightKg,
  WEIGHT_UNITS,
  type WeightUnit,
} from '../../../core/dosing/body-entry.ts';
import { type Field, unitName, type Values } from '../../parts/field.ts';
import { figureReader } from './entries.ts';
import { isAnswered, type Question } from './questions.ts';

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

interface Body {
  readonly heightCm: number;
  readonly weightKg: number;
  /** As typed, with their units, for the record. */
  readonly typed: { readonly height: string; readonly weight: string };
  /** Questions that were answered: as entered. */
  readonly asked: readonly BodyQuestionId[];
  readonly questions: readonly Question[];
}

/** Height and weight as typed, in cm and kg, and what looks like a slip. Faults go to the reader. */
export function readBody(values: Values, reader: ReturnType<typeof figureReader>): Body {
  const heightUnit = HEIGHT_UNITS.find((unit) => unit === values[unitName('heightCm')]) ?? ('cm' satisfies HeightUnit);
  const weightUnit = WEIGHT_UNITS.find((unit) => unit === values[unitName('weightKg')]) ?? ('kg' satisfies WeightUnit);
  const { heightCm: height = '', weightKg: weight = '' } = values;
  const heightCm = tidy(reader.read('heightCm', readHeightCm(height, heightUnit)));
  const weightKg = tidy(reader.read('weightKg', readWeightKg(weight, weightUnit)));
  const found = isBody(heightCm, weightKg) ? questionsAbout(heightCm, weightKg) : [];
  const questions = found.map(({ id, says }) => ({ id, says, field: FIELD_OF[id] }));
  const asked = found.map(({ id }) => id).filter((id) => isAnswered(values, id));
  const typed = { height: asTyped(height, heightUnit), weight: asTyped(weight, weightUnit) };
  return { heightCm, weightKg, typed, asked, questions };
}

/** Which figure is mended if it is a slip. */
const FIELD_OF: Record<BodyQuestionId, string> = {
  swapped: 'heightCm',
  'height-in-inches': 'heightCm',
  unusual: 'heightCm',
  'weight-in-lb': 'weightKg',
  'weight-in-kg': 'weightKg',
};

/** What height and weight come to, in the units that are reckoned with. */
export function bodySums(values: Values): readonly (readonly [string, string])[] {
  const { heightCm, weightKg } = readBody(values, figureReader());
  return isBody(heightCm, weightKg) ? [['taken as', `${heightCm} cm, ${weightKg} kg`]] : [];
}

const isBody = (heightCm: number, weightKg: number): boolean => Number.isFinite(heightCm) && Number.isFinite(weightKg);

/** As many letters as the record keeps. */
const TYPED_AT_MOST = 20;

const asTyped = (figure: string, unit: string): string => `${figure.trim()} ${unit}`.slice(0, TYPED_AT_MOST);

/** Drops what a change of units leaves behind the third decimal. */
const tidy = (value: number): number => Number(value.toFixed(3));
