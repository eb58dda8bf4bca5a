import { LANGUAGE_NAMES } from '../../../core/after-care/say.ts';
import { SHEETS, type SheetName } from '../../../core/protocol/messages.ts';
import { LANGUAGES } from '../../../core/settings/language.ts';
import type { Field, Values } from '../../parts/field.ts';
import type { Form, Printing } from './form.ts';

export const printForm: Form = {
  title: () => 'print: which sheet?',
  lead: () =>
    'A number makes the sheet, as a PDF file to be printed; one for the patient asks for their language first.',
  enter: 'make the sheet',
  start: ({ settings }) => ({ sheet: '', language: settings.language, print: 'usual' }),
  fields: (values, { view }) => [
    {
      kind: 'choice',
      name: 'sheet',
      words: 'sheet',
      rows: true,
      goesOn: true,
      options: offered(view !== null).map((sheet) => ({ value: sheet, words: sheet, detail: HOLDS[sheet] })),
    },
    ...(isForPatient(values) ? [languageField] : []),
    ...(values.sheet === 'after-care sheet' ? [printField] : []),
  ],
  read: (values) => {
    const printing = readPrinting(values);
    return printing === null
      ? { ok: false, errors: { sheet: 'choose the sheet, by its number' } }
      : { ok: true, asked: { kind: 'print', printing } };
  },
  beside: (values) =>
    isForPatient(values)
      ? {
          heading: 'before the first patient gets one',
          lines: [
            { words: 'a native speaker and the clinic read the words through: none has yet', mark: true },
            { words: 'the current product text and local policy go before the sheet', mark: false },
            { words: 'compare its date and time with “out of bright light until” on this console', mark: false },
          ],
        }
      : null,
  atOnce: { field: 'sheet', unless: ['after-care sheet', 'bracelet'] },
};

const QUICK_CARD = 'quick card';

/** What there is to print where a session is in front, and where none is. */
const offered = (session: boolean): readonly Printing['sheet'][] => (session ? [...SHEETS, QUICK_CARD] : [QUICK_CARD]);

const FOR_PATIENTS: readonly string[] = ['after-care sheet', 'bracelet'] satisfies readonly SheetName[];

const isForPatient = ({ sheet = '' }: Values): boolean => FOR_PATIENTS.includes(sheet);

const HOLDS: Record<Printing['sheet'], string> = {
  'syringe label': 'patient, drug, dose, use by',
  'plan sheet': 'dose and light, with sources',
  'after-care sheet': 'for the patient: until when out of bright light, and how',
  bracelet: 'for the wrist: drug, until when, code',
  'quick card': 'for the wall: keys, sounds, moments',
};

const languageField: Field = {
  kind: 'choice',
  name: 'language',
  words: 'language',
  goesOn: true,
  options: LANGUAGES.map((language) => ({ value: language, words: LANGUAGE_NAMES[language] })),
};

const printField: Field = {
  kind: 'choice',
  name: 'print',
  words: 'print',
  options: [
    { value: 'usual', words: 'usual' },
    { value: 'large', words: 'large, 18 pt' },
  ],
};

function readPrinting(values: Values): Printing | null {
  if (values.sheet === QUICK_CARD) return { sheet: QUICK_CARD };
  const sheet = SHEETS.find((one) => one === values.sheet);
  if (sheet === undefined) return null;
  const language = LANGUAGES.find((one) => one === values.language);
  return isForPatient(values) && language !== undefined
    ? { sheet, language, largePrint: values.print === 'large' }
    : { sheet };
}
