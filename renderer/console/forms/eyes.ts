import { LIGHT_LIMITS } from '../../../core/light/spot.ts';
import type { Eye } from '../../../core/procedure/commands.ts';
import { REGIMENS } from '../../../core/regimen/regimens.ts';
import type { ChoiceField, Field, Values } from '../../parts/field.ts';
import type { figureReader } from './entries.ts';

/** Which eyes, in the order of treatment, as one choice. */
const EYES: Readonly<Record<string, readonly Eye[]>> = {
  right: ['right'],
  left: ['left'],
  'right then left': ['right', 'left'],
  'left then right': ['left', 'right'],
};

const eyesField: ChoiceField = {
  kind: 'choice',
  name: 'eyes',
  words: 'eye',
  options: Object.keys(EYES).map((value) => ({ value, words: value })),
};

export const regimenField: ChoiceField = {
  kind: 'choice',
  name: 'regimenId',
  words: 'regimen',
  rows: true,
  options: REGIMENS.map(({ id, name, onLabel, doseMgPerM2, infusionMin, lightStartMin, fluenceJPerCm2 }) => ({
    value: id,
    words: shortName(name),
    detail: [
      `${doseMgPerM2} mg/m², ${infusionMin} min, light at ${lightStartMin} min, ${fluenceJPerCm2} J/cm²`,
      ...(onLabel ? [] : ['off label']),
    ].join(' · '),
  })),
};

/** `Label: full dose, full fluence` as `label`; the figures follow beside it. */
function shortName(name: string): string {
  const [short = name] = name.split(':');
  return short.charAt(0).toLowerCase() + short.slice(1);
}

export const lesionName = (eye: Eye): string => `gld-${eye}`;

export function lesionFields(values: Values): readonly Field[] {
  const eyes = EYES[values.eyes ?? ''] ?? [];
  const lesions = eyes.map(
    (eye): Field => ({
      kind: 'figure',
      name: lesionName(eye),
      words: `${eye} eye, greatest linear dimension`,
      unit: 'µm on the retina',
    }),
  );
  return [eyesField, ...lesions];
}

/** The lesions as typed; faults go to the reader. */
export function readLesions(values: Values, reader: ReturnType<typeof figureReader>): { eye: Eye; gldUm: number }[] {
  const eyes = EYES[values.eyes ?? ''];
  if (eyes === undefined) reader.wrong('eyes', 'choose the eye, by its number');
  if ((values.regimenId ?? '') === '') reader.wrong('regimenId', 'choose the regimen, by its number');
  return (eyes ?? []).map((eye) => {
    const field = lesionName(eye);
    return { eye, gldUm: reader.figure(field, values[field], 'greatest linear dimension', LIGHT_LIMITS.gldUm, 'µm') };
  });
}

/** The choice that names these eyes. */
export const eyesChosen = (eyes: readonly Eye[]): string => eyes.join(' then ');
