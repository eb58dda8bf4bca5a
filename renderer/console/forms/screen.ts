import { needingDecision, SCREENING, screeningAnswersSchema } from '../../../core/procedure/screening.ts';
import type { Field, Values } from '../../parts/field.ts';
import { type Form, readCommand } from './form.ts';

export const screenForm: Form = {
  title: () => 'screening questions',
  lead: () => 'Y or N for each. The list reminds; the current product text and local policy decide.',
  enter: 'enter the answers',
  start: () => ({}),
  fields: (values) => [
    ...SCREENING.map(({ id, words }): Field => ({ kind: 'answer', name: id, words })),
    ...(waitsForDecision(values) ? DECISION : []),
  ],
  read: (values) => {
    const answers = answersIn(values);
    const open = SCREENING.filter(({ id }) => (values[id] ?? '') === '');
    const errors = Object.fromEntries(open.map(({ id }) => [id, 'answer by Y or N']));
    const { physician = '', reason = '' } = values;
    const decision = waitsForDecision(values) && physician.trim() !== '' ? { decision: { physician, reason } } : {};
    return readCommand({ kind: 'screen', answers, ...decision }, errors, ([first, second]) =>
      String(second ?? first ?? ''),
    );
  },
};

/** Without the decision the answers can be entered too; the drug then waits for it. */
const DECISION: readonly Field[] = [
  {
    kind: 'text',
    name: 'physician',
    words: 'physician who decides to go on',
    letters: 24,
    hint: 'none yet: leave empty, the drug waits',
  },
  { kind: 'text', name: 'reason', words: 'the physician’s reason', letters: 500 },
];

const answersIn = (values: Values) => Object.fromEntries(SCREENING.map(({ id }) => [id, values[id]]));

function waitsForDecision(values: Values): boolean {
  const known = Object.fromEntries(SCREENING.map(({ id }) => [id, values[id] === 'yes' ? 'yes' : 'no']));
  return needingDecision(screeningAnswersSchema.parse(known)).length > 0;
}
