import { LIGHT_LIMITS } from '../../../core/light/spot.ts';
import type { Eye } from '../../../core/procedure/commands.ts';
import { REGIMENS, type Regimen } from '../../../core/regimen/regimens.ts';
import type { ChoiceField, Field, Values } from '../../parts/field.ts';
import { type figureReader, lowerFirst } from './entries.ts';

/** Which eyes, in the order of treatment, as one choice. */
const EYES: Readonly<Record<string, readonly Eye[]>> = {
  right: ['right'],
  left: ['left'],
  'right, left': ['right', 'left'],
  'left, right': ['left', 'right'],
};

const eyesField: ChoiceField = {
  kind: 'choice',
  name: 'eyes',
  words: 'eye, in turn',
  options: Object.keys(EYES).map((value) => ({ value, words: value })),
};

export const regimenField: ChoiceField = {
  kind: 'choice',
  name: 'regimenId',
  words: 'regimen',
  rows: true,
  options: REGIMENS.map((regimen) => ({ value: regimen.id, words: shortName(regimen), detail: figuresOf(regimen) })),
};

/** `Label: full dose, full fluence` as `label`; the figures follow beside it. */
function shortName({ name }: Regimen): string {
  const [short = name] = name.split(':');
  return lowerFirst(short);
}

/** What the name does not say already. */
function figuresOf({ name, onLabel, doseMgPerM2, infusionMin, lightStartMin, fluenceJPerCm2 }: Regimen): string {
  const light = name.includes('light at') ? [] : [`light at ${lightStartMin} min`];
  const label = onLabel ? [] : ['off label'];
  return [`${doseMgPerM2} mg/m²`, `${infusionMin} min`, ...light, `${fluenceJPerCm2} J/cm²`, ...label].join(' · ');
}

export const lesionName = (eye: Eye): string => `gld-${eye}`;

export function lesionFields(values: Values): readonly Field[] {
  const eyes = EYES[values.eyes ?? ''] ?? [];
  const lesions = eyes.map(
    (eye): Field => ({
      kind: 'figure',
      name: lesionName(eye),
      words: `${eye} eye, lesion GLD`,
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
export const eyesChosen = (eyes: readonly Eye[]): string => eyes.join(', ');
