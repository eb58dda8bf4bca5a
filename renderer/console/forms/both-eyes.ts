import type { Profile } from '../../../core/procedure/screening.ts';
import type { Field, Values } from '../../parts/field.ts';
import { eyesIn } from './eyes.ts';
import type { FormContext } from './form.ts';

/** What is asked beside the rest where both eyes are ordered. */
export function bothEyesFields(values: Values, context: FormContext): readonly Field[] {
  if (eyesIn(values).length < 2) return [];
  return [EARLIER, ...(decidesByName(values, context) ? DECISION : [])];
}

/** Both eyes as they were decided on; nothing with one eye. */
export function readBothEyes(values: Values, context: FormContext) {
  if (eyesIn(values).length < 2) return {};
  const { earlierTreatment = '', bothPhysician = '', bothReason = '' } = values;
  const named = decidesByName(values, context) && `${bothPhysician}${bothReason}`.trim() !== '';
  return {
    ...(earlierTreatment === '' ? {} : { earlierTreatment }),
    ...(named ? { bothEyes: { physician: bothPhysician, reason: bothReason } } : {}),
  };
}

export const earlierIsOpen = (values: Values): boolean =>
  eyesIn(values).length > 1 && (values.earlierTreatment ?? '') === '';

/** Where a fault in the decision is shown. */
export const bothEyesFieldAt = (part: PropertyKey | undefined): string =>
  part === 'reason' ? 'bothReason' : 'bothPhysician';

const EARLIER: Field = {
  kind: 'choice',
  name: 'earlierTreatment',
  words: 'earlier treatment',
  options: ['none', 'tolerated', 'not tolerated'].map((value) => ({ value, words: value })),
};

/** Without the decision the order can be entered too; the drug then waits for it. */
const DECISION: readonly Field[] = [
  {
    kind: 'text',
    name: 'bothPhysician',
    words: 'both eyes, decided by',
    letters: 24,
    hint: 'empty: the drug waits',
  },
  { kind: 'text', name: 'bothReason', words: 'reason for both eyes', letters: 500 },
];

/** Treatments that the product text does not leave to be done in both eyes at once. */
const NOT_BOTH: Record<Profile, readonly string[]> = {
  us: ['none', 'not tolerated'],
  eu: ['none', 'tolerated', 'not tolerated'],
};

const decidesByName = ({ earlierTreatment = '' }: Values, { settings }: FormContext): boolean =>
  NOT_BOTH[settings.profile].includes(earlierTreatment);
