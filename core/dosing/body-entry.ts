import { BODY_LIMITS } from './body-surface-area.ts';
import type { PlausibleRange } from './plausible.ts';

export const HEIGHT_UNITS = ['cm', 'm', 'ft in'] as const;
export const WEIGHT_UNITS = ['kg', 'lb'] as const;
export type HeightUnit = (typeof HEIGHT_UNITS)[number];
export type WeightUnit = (typeof WEIGHT_UNITS)[number];

/** Exact by definition: international yard and pound agreement, 1959. */
export const CM_PER_INCH = 2.54;
export const KG_PER_LB = 0.453_592_37;
const INCHES_PER_FOOT = 12;

/** What a typed figure comes to, or what to do about it. */
export type ReadFigure = { readonly ok: true; readonly value: number } | { readonly ok: false; readonly says: string };

/** Reads a height as typed, with decimal comma or point; feet and inches as `5 8`, `5'8"` or `5 ft 8 in`. In cm. */
export function readHeightCm(typed: string, unit: HeightUnit): ReadFigure {
  const figure = unit === 'ft in' ? readFeetInches(typed) : readDecimal(typed, 'height');
  if (!figure.ok) return figure;
  const heightCm = unit === 'm' ? clean(figure.value * 100) : figure.value;
  return inRange('Height', heightCm, BODY_LIMITS.heightCm, 'cm', `${typed.trim()} ${unit}`);
}

/** 1.15 * 100 comes out as 114.99999999999999, which is not the 115 of whoever measures in centimetres. */
const clean = (value: number): number => Number(value.toFixed(6));

/** Reads a weight as typed, with decimal comma or point. In kg. */
export function readWeightKg(typed: string, unit: WeightUnit): ReadFigure {
  const figure = readDecimal(typed, 'weight');
  if (!figure.ok) return figure;
  const weightKg = unit === 'lb' ? figure.value * KG_PER_LB : figure.value;
  return inRange('Weight', weightKg, BODY_LIMITS.weightKg, 'kg', `${typed.trim()} ${unit}`);
}

/** Reads one positive figure with decimal comma or point. A thousands separator is refused: it could be either. */
export function readDecimal(typed: string, what: string): ReadFigure {
  const text = typed.trim();
  if (text === '') return { ok: false, says: `Enter the ${what}.` };
  if (!/^\d+(?:[.,]\d+)?$/.test(text)) {
    return { ok: false, says: `Enter the ${what} as one figure, for example 71.5 or 71,5; "${text}" is not one.` };
  }
  return { ok: true, value: Number(text.replace(',', '.')) };
}

function readFeetInches(typed: string): ReadFigure {
  const parts = /^(\d+)\s*(?:'|ft|\s)\s*(\d+(?:[.,]\d+)?)?\s*(?:"|in|'')?$/.exec(typed.trim());
  const feet = Number(parts?.[1]);
  const inches = Number((parts?.[2] ?? '0').replace(',', '.'));
  if (parts === null || inches >= INCHES_PER_FOOT) {
    return { ok: false, says: `Enter the height as feet and inches, for example 5 8; "${typed.trim()}" is not that.` };
  }
  return { ok: true, value: (feet * INCHES_PER_FOOT + inches) * CM_PER_INCH };
}

function inRange(what: string, value: number, { min, max }: PlausibleRange, unit: string, typed: string): ReadFigure {
  if (value >= min && value <= max) return { ok: true, value };
  const says = `${what} is ${min} to ${max} ${unit}; ${typed} is ${Number(value.toFixed(2))} ${unit}. Check figure and unit.`;
  return { ok: false, says };
}

/** A pair of figures that is possible but looks like a slip. It is asked about, never mended. */
export interface BodyQuestion {
  readonly id: BodyQuestionId;
  readonly says: string;
}

export const BODY_QUESTION_IDS = ['swapped', 'weight-in-lb', 'weight-in-kg', 'height-in-inches', 'unusual'] as const;
export type BodyQuestionId = (typeof BODY_QUESTION_IDS)[number];

/**
 * Body mass index, kg/m2, between which a pair of figures is taken as it is. Wider than any table of normal weights,
 * and narrow enough that an ordinary weight in pounds, which is 2.2 times as many, is asked about. Local practice.
 */
export const BODY_MASS_INDEX_ASKED = { min: 15, max: 45 } as const satisfies PlausibleRange;

const bodyMassIndex = (heightCm: number, weightKg: number): number => weightKg / (heightCm / 100) ** 2;

function likely(heightCm: number, weightKg: number): boolean {
  const { min, max } = BODY_MASS_INDEX_ASKED;
  const index = bodyMassIndex(heightCm, weightKg);
  const adult = heightCm >= 120 && heightCm <= 220;
  return adult && index >= min && index <= max;
}

/** What is asked before a height and a weight are taken: nothing where they look right together. */
export function questionsAbout(heightCm: number, weightKg: number): BodyQuestion[] {
  if (likely(heightCm, weightKg)) return [];
  const shown = `${round(heightCm)} cm and ${round(weightKg)} kg`;
  const inCm = heightCm * CM_PER_INCH;
  const inKg = weightKg * KG_PER_LB;
  const bothImperial = likely(inCm, inKg);
  const questions: BodyQuestion[] = [];
  const ask = (id: BodyQuestionId, says: string): void => void questions.push({ id, says: `${shown}: ${says}` });
  if (likely(weightKg, heightCm)) ask('swapped', "are height and weight in each other's place?");
  if (likely(heightCm, inKg) || bothImperial) {
    ask('weight-in-lb', `is the weight in lb? ${round(weightKg)} lb is ${round(inKg)} kg.`);
  }
  if (likely(heightCm, weightKg / KG_PER_LB)) {
    ask('weight-in-kg', `is the weight in kg, and entered as lb? Then it is ${round(weightKg / KG_PER_LB)} kg.`);
  }
  if (likely(inCm, weightKg) || bothImperial) {
    ask('height-in-inches', `is the height in inches? ${round(heightCm)} in is ${round(inCm)} cm.`);
  }
  if (questions.length > 0) return questions;
  const index = bodyMassIndex(heightCm, weightKg).toFixed(0);
  return [{ id: 'unusual', says: `${shown}: unusual together (body mass index ${index}). Measure again, or confirm.` }];
}

const round = (value: number): number => Number(value.toFixed(1));
