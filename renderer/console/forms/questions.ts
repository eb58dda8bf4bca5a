import type { ChoiceField, Values } from '../../parts/field.ts';

/** What is possible but looks like a slip: asked about, never mended. */
export interface Question {
  readonly id: string;
  readonly says: string;
  /** The field that is mended if it is a slip. */
  readonly field: string;
}

const PREFIX = 'asked:';
const questionName = (id: string): string => `${PREFIX}${id}`;
const AS_ENTERED = 'as entered';
const MEND = 'mend';

/**
 * A question as a field. Answered by letters of its own: `yes` to "is the weight in lb?" would mean the opposite of
 * leaving the figure as it is.
 */
export const questionField = ({ id, says }: Question): ChoiceField => ({
  kind: 'choice',
  name: questionName(id),
  words: says,
  lettered: true,
  wide: true,
  options: [
    { value: AS_ENTERED, words: 'as entered' },
    { value: MEND, words: 'mend the figure' },
  ],
});

export const isQuestion = (name: string): boolean => name.startsWith(PREFIX);

/** Whether the answer to a question was that a figure has to be mended. */
export const isMending = (name: string, value: string): boolean => isQuestion(name) && value === MEND;

/** Whether a question was answered: the figures stand as they were entered. */
export const isAnswered = (values: Values, id: string): boolean => values[questionName(id)] === AS_ENTERED;

/** The same without answers: they hold for the figures that they were asked about, and for no others. */
export const withoutAnswers = (values: Values): Values =>
  Object.fromEntries(Object.entries(values).filter(([name]) => !isQuestion(name)));
