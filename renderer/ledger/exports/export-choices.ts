import type { SessionForm, Wanted } from '../../../core/protocol/exporting.ts';
import type { SessionRow } from '../../../core/protocol/finding.ts';
import { calendarDate } from '../../../core/time/show.ts';

/** Something that a file can be made of, by its number. */
export interface ExportChoice {
  readonly words: string;
  readonly about: string;
  readonly wanted: Wanted;
}

const FORMS: readonly { readonly as: SessionForm; readonly words: string; readonly about: string }[] = [
  { as: 'pdf', words: 'record, PDF', about: 'to read, print and file: entries, figure, deviations' },
  { as: 'csv', words: 'entries, CSV', about: 'one line an entry, for a spreadsheet' },
  { as: 'json', words: 'entries with their chain, JSON', about: '“ledger verify” checks it by itself' },
  { as: 'fhir', words: 'FHIR R4 bundle, JSON', about: 'for another clinical system' },
];

/** What there is to export where one stands: of a session, of its patient, of the whole ledger. */
export function exportChoices(row: SessionRow | null): readonly ExportChoice[] {
  return [
    ...(row === null ? [] : ofSession(row)),
    ...(row === null || row.patientCode === null ? [] : ofPatient(row.patientCode)),
    { words: 'every session: table, CSV', about: 'one line a session', wanted: { what: 'table', patientCode: null } },
  ];
}

function ofSession({ sessionId, patientCode, openedWallMs, offsetMin }: SessionRow): ExportChoice[] {
  const which = `${patientCode ?? 'no patient'}, ${calendarDate(openedWallMs, offsetMin)}`;
  return FORMS.map(({ as, words, about }) => ({
    words: `${which}: ${words}`,
    about,
    wanted: { what: 'session', sessionId, as },
  }));
}

const ofPatient = (patientCode: string): ExportChoice[] => [
  {
    words: `all of ${patientCode}: entries with their chain, JSON`,
    about: 'everything that is kept of this patient',
    wanted: { what: 'patient', patientCode },
  },
  {
    words: `all of ${patientCode}: table of sessions, CSV`,
    about: 'one line a session',
    wanted: { what: 'table', patientCode },
  },
];
