import type { Given } from '../link/requests.ts';

/** Why a command was not entered, as sentences; nothing where it was. */
export function refusalOf(given: Given | null): readonly string[] {
  if (given === null) return ['the last one is still being written: wait, then press again'];
  if (given.type === 'entered') return [];
  return given.type === 'error' ? [given.says] : given.missing.map(({ text }) => text);
}
