import { BSA_FORMULAS, bodySurfaceAreaM2 } from '../../../core/dosing/body-surface-area.ts';
import { DEFAULT_SETTINGS } from '../../../core/settings/settings.ts';
import type { Field, Values } from '../../parts/field.ts';
import { BODY_FIELDS, EMPTY_BODY, readBody } from './body.ts';
import { figureReader } from './entries.ts';
import { type Form, readCommand } from './form.ts';

export const measureForm: Form = {
  title: () => 'height and weight',
  lead: () => 'As measured today. A letter after the figure changes the unit.',
  enter: 'enter height and weight',
  start: () => ({ ...EMPTY_BODY, formula: DEFAULT_SETTINGS.formula }),
  fields: () => [...BODY_FIELDS, formulaField],
  read: (values) => {
    const reader = figureReader();
    const { heightCm, weightKg, doubts } = readBody(values, reader);
    const read = readCommand({ kind: 'measure', heightCm, weightKg, formula: values.formula }, reader.errors);
    return read.ok ? { ...read, doubts } : read;
  },
  sums: (values) => areaSum(values),
};

const formulaField: Field = {
  kind: 'choice',
  name: 'formula',
  words: 'body surface area by',
  options: Object.values(BSA_FORMULAS).map(({ id, name }) => ({ value: id, words: name })),
};

function areaSum(values: Values): readonly (readonly [string, string])[] {
  const { heightCm, weightKg } = readBody(values, figureReader());
  const formula = Object.values(BSA_FORMULAS).find(({ id }) => id === values.formula);
  if (formula === undefined || !Number.isFinite(heightCm) || !Number.isFinite(weightKg)) return [];
  const areaM2 = bodySurfaceAreaM2(formula.id, heightCm, weightKg);
  return [
    ['taken as', `${heightCm} cm, ${weightKg} kg`],
    ['body surface area', `${areaM2.toFixed(2)} m²`],
  ];
}
