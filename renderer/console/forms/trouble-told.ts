import { type Form, type FormContext, readCommand } from './form.ts';

export const troubleToldForm: Form = {
  title: (context) => `what was done: ${waitingIn(context)?.words ?? 'trouble'}`,
  lead: (context) => upperFirst(waitingIn(context)?.afterwards ?? ''),
  enter: 'enter what was done',
  start: (context) => ({ card: waitingIn(context)?.id ?? '', words: '' }),
  fields: () => [{ kind: 'text', name: 'words', words: 'what was done', letters: 500 }],
  read: ({ card, words }) => readCommand({ kind: 'trouble-told', card, words }),
};

/** The trouble that has waited longest for what was done about it. */
const waitingIn = ({ view }: FormContext) => view?.troubles.find(({ told }) => told === null)?.card ?? null;

const upperFirst = (sentence: string): string => sentence.charAt(0).toUpperCase() + sentence.slice(1);
