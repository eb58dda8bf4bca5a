import type { Regimen } from '../../../core/regimen/regimens.ts';
import { SURE_WORDS } from '../../../core/regimen/source.ts';
import type { ChoiceField, Values } from '../../parts/field.ts';
import { lowerFirst } from './entries.ts';
import type { Beside, FormContext } from './form.ts';

/** Every regimen that the site offers, its own too. */
export const regimenField = ({ regimens }: FormContext): ChoiceField => ({
  kind: 'choice',
  name: 'regimenId',
  words: 'regimen',
  rows: true,
  options: regimens.map((regimen) => ({ value: regimen.id, words: shortName(regimen), detail: figuresOf(regimen) })),
});

export const regimenChosen = ({ regimenId }: Values, { regimens }: FormContext): Regimen | null =>
  regimens.find(({ id }) => id === regimenId) ?? null;

/** Where the figures of the chosen regimen come from, and how sure each is. */
export function regimenSources(values: Values, context: FormContext): { heading: string; lines: Beside[] } | null {
  const regimen = regimenChosen(values, context);
  if (regimen === null) return null;
  const sources = regimen.sources.map(({ text, sure }) => ({
    words: sure === 'found' ? text : `${text}: ${SURE_WORDS[sure]}`,
    mark: sure === 'memory',
  }));
  const notes = regimen.notes.map((words) => ({ words, mark: false }));
  return { heading: `sources: ${shortName(regimen)}`, lines: [...sources, ...notes] };
}

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
