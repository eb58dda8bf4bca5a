import { PUMP_SEEN } from '../../../core/procedure/commands.ts';
import { type Form, readCommand } from './form.ts';

export const lookedForm: Form = {
  title: () => 'this computer slept: what did the pump do meanwhile?',
  lead: () => 'Look at the pump: what it says was infused decides. The light timer went on all the same.',
  enter: 'enter what the pump did',
  start: () => ({ pump: '' }),
  fields: () => [
    {
      kind: 'choice',
      name: 'pump',
      words: 'the pump',
      rows: true,
      options: PUMP_SEEN.map((value) => ({ value, words: value, detail: THEN[value] })),
    },
  ],
  read: ({ pump = '' }) =>
    readCommand({ kind: 'looked', pump }, pump === '' ? { pump: 'choose what it did, by its number' } : {}),
};

const THEN: Record<(typeof PUMP_SEEN)[number], string> = {
  'ran on': 'the infusion timer stands as it is',
  'stood still': 'the time asleep is given back to the infusion timer',
  'was off': 'it had ended before',
};
