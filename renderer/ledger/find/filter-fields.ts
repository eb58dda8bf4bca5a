import { DEVIATION_RULES } from '../../../core/ledger/deviations.ts';
import { ANY_DEVIATION } from '../../../core/ledger/find-filter.ts';
import { STATE_WORDS, STATES } from '../../../core/procedure/states.ts';
import type { Regimen } from '../../../core/regimen/regimens.ts';
import type { Field, Values } from '../../parts/field.ts';
import { matching, type Named } from './match-words.ts';

/** A field of the filter, and the key that leads to it. */
export interface FilterField {
  readonly key: string;
  readonly field: Field;
}

/** What can be named by words. */
export interface Nameable {
  readonly regimens: readonly Named[];
  readonly states: readonly Named[];
  readonly deviations: readonly Named[];
}

export const nameable = (regimens: readonly Regimen[]): Nameable => ({
  regimens: regimens.map(({ id, name }) => ({ id, words: name })),
  states: STATES.map((id) => ({ id, words: STATE_WORDS[id] })),
  deviations: [{ id: ANY_DEVIATION, words: 'any' }, ...DEVIATION_RULES.map(({ id, title }) => ({ id, words: title }))],
});

/** Every filter, in the order in which it is asked; a hint says what typed words come to. */
export function filterFields(values: Values, { regimens, states, deviations }: Nameable): readonly FilterField[] {
  return [
    {
      key: 'f',
      field: { kind: 'text', name: 'from', words: 'from', letters: 10, hint: '2026-03-02, or 2026-03' },
    },
    {
      key: 't',
      field: { kind: 'text', name: 'to', words: 'to, and with', letters: 10, hint: '2026-03-02, or 2026-03' },
    },
    {
      key: 'p',
      field: {
        kind: 'text',
        name: 'patientCode',
        words: 'patient code',
        upper: true,
        letters: 24,
        hint: 'or its beginning',
      },
    },
    { key: 'l', field: { kind: 'text', name: 'lot', words: 'lot', upper: true, letters: 24 } },
    { key: 'r', field: named('regimen', 'regimen', values.regimen, regimens) },
    { key: 's', field: named('state', 'state', values.state, states) },
    { key: 'd', field: named('deviation', 'deviation', values.deviation, deviations) },
    { key: 'w', field: { kind: 'text', name: 'person', words: 'who', upper: true, letters: 4, hint: 'initials' } },
    { key: 'e', field: { kind: 'choice', name: 'eye', words: 'eye', lettered: true, options: EYES } },
    { key: 'k', field: { kind: 'choice', name: 'practice', words: 'kind', lettered: true, options: KINDS } },
  ];
}

export const EITHER = '';

const EYES = [
  { value: EITHER, words: 'either' },
  { value: 'right', words: 'right' },
  { value: 'left', words: 'left' },
] as const;

const KINDS = [
  { value: EITHER, words: 'both' },
  { value: 'real', words: 'real' },
  { value: 'practice', words: 'practice' },
] as const;

function named(name: string, words: string, typed: string | undefined, among: readonly Named[]): Field {
  return { kind: 'text', name, words, letters: 24, hint: hintFor(typed ?? '', among) };
}

const HINTED = 3;

/** What the words typed so far may mean. */
function hintFor(typed: string, among: readonly Named[]): string {
  if (typed.trim() === '') return 'words of its name';
  const found = matching(typed, among);
  const shown = found.slice(0, HINTED).map(({ words }) => words);
  return `${shown.join(', ')}${found.length > HINTED ? `, … ${found.length} in all` : ''}`;
}
