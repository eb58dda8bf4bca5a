import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import envPaths from 'env-paths';
import { ReplayError } from '../../core/ledger/replay.ts';
import { Unreadable } from '../station/read-file.ts';
import { anchor, list, show, verify } from './reports.ts';

const USAGE = `npm run --silent ledger -- verify FILE [--anchor TEXT]
npm run --silent ledger -- list [FILE]
npm run --silent ledger -- show SESSION [--at TIME] [--file FILE]
npm run --silent ledger -- anchor [FILE]`;

const EXIT = { sound: 0, notSound: 1, cannotRead: 2 } as const;

/** A command line that cannot be carried out. */
class Usage extends Error {}

try {
  process.exitCode = run(process.argv.slice(2));
} catch (error) {
  const says = error instanceof Error ? error.message : String(error);
  const usage = error instanceof Usage || (error as { code?: string }).code?.startsWith('ERR_PARSE_ARGS');
  const known = usage || error instanceof Unreadable || error instanceof RangeError || error instanceof ReplayError;
  print({ error: says });
  console.error(usage ? `${says}\n${USAGE}` : known ? says : error);
  process.exitCode = EXIT.cannotRead;
}

function run(words: readonly string[]): number {
  const { positionals, values } = parseArgs({
    args: [...words],
    allowPositionals: true,
    options: { anchor: { type: 'string' }, at: { type: 'string' }, file: { type: 'string' } },
  });
  const [what, which] = positionals;
  switch (what) {
    case 'verify': {
      if (which === undefined) throw new Usage('name the file to verify');
      const report = verify(resolve(which), values.anchor ?? null);
      print(report);
      return report.sound ? EXIT.sound : EXIT.notSound;
    }
    case 'list':
      print(list(fileOf(which)));
      return EXIT.sound;
    case 'show':
      if (which === undefined) throw new Usage('name the session to show');
      print(show(fileOf(values.file), which, values.at ?? null));
      return EXIT.sound;
    case 'anchor':
      print(anchor(fileOf(which)));
      return EXIT.sound;
    default:
      throw new Usage(what === undefined ? 'say what to do' : `"${what}" is not something to do with a ledger`);
  }
}

/** Without a file, the ledger in the platform's application-data folder. */
function fileOf(given: string | undefined): string {
  return resolve(given ?? `${envPaths('dimroom', { suffix: '' }).data}/ledger.sqlite3`);
}

function print(value: object): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}
