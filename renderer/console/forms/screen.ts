import {
  type Effect,
  needingDecision,
  SCREENING,
  type ScreeningQuestion,
  screeningAnswersSchema,
} from '../../../core/procedure/screening.ts';
import type { Field, Values } from '../../parts/field.ts';
import { type Form, type FormContext, readCommand } from './form.ts';

export const screenForm: Form = {
  title: () => 'screening questions',
  lead: () => 'Y or N for each. The list reminds; the current product text and local policy decide.',
  enter: 'enter the answers',
  start: () => ({}),
  fields: (values, context) => [
    ...SCREENING.map((question) => answerField(question, values, context)),
    ...(waitsForDecision(values, context) ? DECISION : []),
  ],
  read: (values, context) => {
    const answers = answersIn(values);
    const open = SCREENING.filter(({ id }) => (values[id] ?? '') === '');
    const errors = Object.fromEntries(open.map(({ id }) => [id, 'answer by Y or N']));
    const { physician = '', reason = '' } = values;
    const named = waitsForDecision(values, context) && physician.trim() !== '';
    const decision = named ? { decision: { physician, reason } } : {};
    return readCommand({ kind: 'screen', answers, ...decision }, errors, ([first, second]) =>
      String(second ?? first ?? ''),
    );
  },
};

/** What a yes does, by the product text that the site follows. */
const EFFECT_WORDS: Record<Effect, string> = {
  stop: 'a contraindication',
  decide: 'the physician decides, by name',
  mind: 'kept in view',
};

function answerField({ id, words, effect, advice }: ScreeningQuestion, values: Values, context: FormContext): Field {
  const field: Field = { kind: 'answer', name: id, words };
  if (values[id] !== 'yes') return field;
  const does = effect[context.settings.profile];
  return { ...field, advice: advice === 'contraindicated' ? EFFECT_WORDS[does] : `${EFFECT_WORDS[does]} · ${advice}` };
}

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

function waitsForDecision(values: Values, { settings }: FormContext): boolean {
  const known = Object.fromEntries(SCREENING.map(({ id }) => [id, values[id] === 'yes' ? 'yes' : 'no']));
  return needingDecision(screeningAnswersSchema.parse(known), settings.profile).length > 0;
}
