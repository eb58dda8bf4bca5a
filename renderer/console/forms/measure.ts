import { BSA_FORMULAS, bodySurfaceAreaM2 } from '../../../core/dosing/body-surface-area.ts';
import type { Values } from '../../parts/field.ts';
import { BODY_FIELDS, bodySums, EMPTY_BODY, readBody } from './body.ts';
import { figureReader } from './entries.ts';
import { type Form, type FormContext, readCommand } from './form.ts';

export const measureForm: Form = {
  title: () => 'height and weight',
  lead: ({ settings }) =>
    `As measured today. A letter after the figure changes the unit. Body surface area by ${BSA_FORMULAS[settings.formula].name}, as this site has set it.`,
  enter: 'enter height and weight',
  start: () => EMPTY_BODY,
  fields: () => BODY_FIELDS,
  read: (values) => {
    const reader = figureReader();
    const { questions, ...body } = readBody(values, reader);
    const read = readCommand({ kind: 'measure', ...body }, reader.errors);
    return read.ok ? { ...read, questions } : read;
  },
  sums: (values, context) => [...bodySums(values), ...areaSum(values, context)],
};

function areaSum(values: Values, { settings }: FormContext): readonly (readonly [string, string])[] {
  const { heightCm, weightKg } = readBody(values, figureReader());
  if (!Number.isFinite(heightCm) || !Number.isFinite(weightKg)) return [];
  return [['body surface area', `${bodySurfaceAreaM2(settings.formula, heightCm, weightKg).toFixed(2)} m²`]];
}
