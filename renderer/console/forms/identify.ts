import { readDay } from './entries.ts';
import { type Form, readCommand } from './form.ts';

export const identifyForm: Form = {
  title: () => 'patient, by two identifiers',
  lead: () => 'The clinic’s own code, no name. Ask for the day of birth; do not read it out.',
  enter: 'enter the patient',
  start: ({ view }) => ({ patientCode: view?.patient?.patientCode ?? '', birthDate: view?.patient?.birthDate ?? '' }),
  fields: () => [
    { kind: 'text', name: 'patientCode', words: 'patient code', upper: true, letters: 24 },
    { kind: 'text', name: 'birthDate', words: 'day of birth', letters: 10, hint: 'year-month-day' },
  ],
  read: ({ patientCode = '', birthDate = '' }, { settings }) =>
    readCommand({
      kind: 'identify',
      patientCode: patientCode.trim(),
      birthDate: readDay(birthDate, { language: settings.language }),
    }),
};
