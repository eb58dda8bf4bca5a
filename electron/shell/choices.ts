import { parseArgs } from 'node:util';
import type { StationChoices } from '../carrier/station-words.ts';

/** What was chosen on the command line, among which Chromium's own flags stand too. */
export function readChoices(argv: readonly string[]): StationChoices {
  const { values } = parseArgs({
    args: argv.slice(1),
    options: {
      data: { type: 'string' },
      practice: { type: 'boolean' },
      speed: { type: 'string' },
      guided: { type: 'boolean' },
    },
    strict: false,
    allowPositionals: true,
  });
  const guided = values.guided === true;
  return { data: text(values.data), practice: guided || values.practice === true, speed: text(values.speed), guided };
}

const text = (value: string | boolean | undefined): string | undefined =>
  typeof value === 'string' ? value : undefined;
