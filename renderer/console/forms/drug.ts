import { readDay } from './entries.ts';
import { type Form, readCommand } from './form.ts';

export const drugForm: Form = {
  title: () => 'lot and expiry of the vial',
  enter: 'enter lot and expiry',
  start: () => ({ lot: '', expires: '' }),
  fields: () => [
    { kind: 'text', name: 'lot', words: 'lot', upper: true, letters: 24, hint: 'as printed on the vial' },
    {
      kind: 'text',
      name: 'expires',
      words: 'expires',
      letters: 10,
      hint: 'year-month-day; year-month is the last day of the month',
    },
  ],
  read: ({ lot = '', expires = '' }, { settings }) =>
    readCommand({
      kind: 'drug',
      lot: lot.trim(),
      expires: readDay(expires, { month: true, language: settings.language }),
    }),
};
