import { stringify } from 'csv-stringify/sync';
import type { Cell } from '../../core/report/tables/column.ts';

/**
 * Lines of a table as CSV (RFC 4180): commas, CRLF, every text in quotes, numbers bare, nothing where there is nothing.
 * UTF-8 without a byte order mark.
 */
export function* csvOf(lines: Iterable<readonly Cell[]>): Generator<string> {
  for (const line of lines) {
    const cells = line.map((cell) => (typeof cell === 'string' ? guarded(cell) : cell));
    yield stringify([cells], { record_delimiter: '\r\n', quoted_string: true });
  }
}

/**
 * Text that a spreadsheet would take for a formula has a ' before it, as CWE-1236 recommends: some of it is free text
 * that anybody may have typed. Text that begins with such a ' of its own gets one more, so that `unguarded` gives back
 * every text as it was. Numbers are left alone.
 */
const guarded = (text: string): string => (TEMPTING.test(text) ? `'${text}` : text);

export const unguarded = (text: string): string => (text.startsWith("'") && TEMPTING.test(text) ? text.slice(1) : text);

/** The signs formulas begin with, also in full width, and the spaces spreadsheets overlook before them. */
const TEMPTING = /^'*[=+\-@\t\r\n\0＝＋－＠]/;
