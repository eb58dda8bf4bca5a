import { parseArgs } from 'node:util';
import type { StationChoices } from '../carrier/station-words.ts';

/** What was chosen on the command line, among which Chromium's own flags stand too. */
export function readChoices(argv: readonly string[]): StationChoices {
  const { values } = parseArgs({
    args: argv.slice(1),
    options: { data: { type: 'string' }, practice: { type: 'boolean' }, speed: { type: 'string' } },
    strict: false,
    allowPositionals: true,
  });
  return { data: text(values.data), practice: values.practice === true, speed: text(values.speed) };
}

const text = (value: string | boolean | undefined): string | undefined =>
  typeof value === 'string' ? value : undefined;
