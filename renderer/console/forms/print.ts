import { SHEETS, type SheetName } from '../../../core/protocol/messages.ts';
import type { Form } from './form.ts';

export const printForm: Form = {
  title: () => 'print: which sheet?',
  lead: () => 'A number makes the sheet at once, as a PDF file to be printed.',
  enter: 'make the sheet',
  start: () => ({ sheet: '' }),
  fields: () => [
    {
      kind: 'choice',
      name: 'sheet',
      words: 'sheet',
      rows: true,
      options: SHEETS.map((sheet) => ({ value: sheet, words: sheet, detail: HOLDS[sheet] })),
    },
  ],
  read: ({ sheet: chosen }) => {
    const sheet = SHEETS.find((one) => one === chosen);
    return sheet === undefined
      ? { ok: false, errors: { sheet: 'choose the sheet, by its number' } }
      : { ok: true, asked: { kind: 'print', sheet } };
  },
  atOnce: { field: 'sheet', unless: '' },
};

const HOLDS: Record<SheetName, string> = {
  'syringe label': 'patient, drug, dose, use by',
  'plan sheet': 'dose and light, with sources',
};
