import type { Wanted } from '../../../core/protocol/exporting.ts';
import type { Extract } from '../../../core/report/extract.ts';
import { standingOf } from '../../../core/report/extract.ts';
import { calendarDate, clockTime } from '../../../core/time/show.ts';
import { ENDINGS } from '../../export/forms.ts';

/** How a file is called, and what kind it is. */
export interface NamedFile {
  readonly fileName: string;
  readonly mediaType: string;
}

/** Media types as IANA has registered them; FHIR's by the specification itself, R4 section 2.6.1. */
const MEDIA_TYPES = {
  csv: 'text/csv',
  json: 'application/json',
  fhir: 'application/fhir+json',
  pdf: 'application/pdf',
} as const;

/**
 * By patient and time of opening, so that two sessions of a day are two files: `K-2041-2026-03-02-1407-record.pdf`.
 * `any` is one of the sessions in it.
 */
export function nameOf(wanted: Wanted, any: Extract | undefined): NamedFile {
  const practice = any?.practice === true ? 'PRACTICE-' : '';
  if (wanted.what === 'session') {
    const fileName = `${practice}${any === undefined ? '' : sessionName(any)}-${ENDINGS[wanted.as]}`;
    return { fileName, mediaType: MEDIA_TYPES[wanted.as] };
  }
  if (wanted.what === 'patient') {
    const fileName = `${practice}${safe(wanted.patientCode)}-all-sessions-chain.json`;
    return { fileName, mediaType: MEDIA_TYPES.json };
  }
  const whose = wanted.patientCode === null ? `to-entry-${any?.head.seq ?? 0}` : `of-${safe(wanted.patientCode)}`;
  return { fileName: `${practice}sessions-${whose}.csv`, mediaType: MEDIA_TYPES.csv };
}

function sessionName(extract: Extract): string {
  const patientCode = standingOf(extract).record?.patient?.patientCode ?? 'no-patient';
  const [first] = extract.entries;
  if (first === undefined) return safe(patientCode);
  const { wallMs, offsetMin } = first;
  const time = clockTime(wallMs, offsetMin).replace(':', '');
  return `${safe(patientCode)}-${calendarDate(wallMs, offsetMin)}-${time}`;
}

/** What every disk takes in a name. */
const safe = (code: string): string => code.replaceAll(/[^A-Za-z0-9-]/g, '_');
