import { copyFileSync, existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { newFolder } from '../station/station-under-test.ts';

const KEPT = resolve(import.meta.dirname, 'ledgers');

/**
 * The ledger that was kept of a schema: five rehearsed sessions, written by a Dimroom of that schema. The one of a new
 * schema is made when the migration is: `npm run --silent rehearse -- --scenario tests/scenarios/….json --data DIR`, for
 * some scenarios on the same folder, then `practice.sqlite3` once its log is folded in. It is never made anew.
 */
export const keptLedger = (version: number): string => join(KEPT, `${version}.sqlite3`);

export const isKept = (version: number): boolean => existsSync(keptLedger(version));

/** A copy of it in a data folder, as the ledger of practice. */
export function ledgerFrom(version: number): { readonly data: string; readonly file: string } {
  const data = newFolder();
  const file = join(data, 'practice.sqlite3');
  copyFileSync(keptLedger(version), file);
  return { data, file };
}
