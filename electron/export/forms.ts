import type { SessionForm } from '../../core/protocol/exporting.ts';
import { chainExport } from '../../core/report/chain/chain-export.ts';
import type { Extract } from '../../core/report/extract.ts';
import { fhirBundle } from '../../core/report/fhir/bundle.ts';
import { recordSheet } from '../../core/report/record/record-sheet.ts';
import { entriesTable } from '../../core/report/tables/entries-table.ts';
import type { Limits } from '../../core/settings/limits.ts';
import { sha256 } from '../station/sha256.ts';
import { csvOf } from './csv.ts';
import { recordPdf } from './pdf/record-pdf.ts';
import { VERSION } from './version.ts';
import type { Piece } from './write-aside.ts';

/** What a maker needs beside the session. */
export interface Made {
  readonly limits: Limits;
  /** Hashes of the entries between, where the chain is wanted with its gaps. */
  readonly hashes: ((fromSeq: number, toSeq: number) => readonly string[]) | null;
}

/** How the file of a form is called, after the session. */
export const ENDINGS: Readonly<Record<SessionForm, string>> = {
  csv: 'entries.csv',
  json: 'chain.json',
  fhir: 'fhir.json',
  pdf: 'record.pdf',
};

/** The very bytes of an export, piece by piece; the same for the same entries. @throws Withheld, RangeError */
export const MAKERS: Readonly<
  Record<SessionForm, (extract: Extract, made: Made) => Iterable<Piece> | Promise<Iterable<Piece>>>
> = {
  csv: (extract) => csvOf(entriesTable(extract)),
  json: (extract, { hashes }) => chainExport({ sessions: [extract], patientCode: null, hashes, sha256 }),
  fhir: (extract, { limits }) => [
    `${JSON.stringify(fhirBundle({ extract, limits, version: VERSION, sha256 }), null, 2)}\n`,
  ],
  pdf: async (extract, { limits }) => [await recordPdf(recordSheet(extract, limits))],
};
