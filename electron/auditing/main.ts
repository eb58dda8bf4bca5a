import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import envPaths from 'env-paths';
import { ReplayError } from '../../core/ledger/replay.ts';
import { Withheld } from '../../core/report/extract.ts';
import { CannotWrite } from '../export/write-aside.ts';
import { Unreadable } from '../station/read-file.ts';
import { exportLedger, Interrupted } from './export.ts';
import { anchor, list, show, verify } from './reports.ts';
import { USAGE, Usage } from './usage.ts';
import { chainExportIn, verifyExport } from './verify-export.ts';

/** Of a program that was interrupted, as shells have it: 128 and the signal's number. */
const EXIT = { sound: 0, notSound: 1, cannotRead: 2, interrupted: 130 } as const;

/** Complaints that say in words what to do; anything else is shown with where it came from. */
const KNOWN = [Unreadable, RangeError, ReplayError, CannotWrite, Withheld, Interrupted];

try {
  process.exitCode = await run(process.argv.slice(2));
} catch (error) {
  const says = error instanceof Error ? error.message : String(error);
  const usage = error instanceof Usage || (error as { code?: string }).code?.startsWith('ERR_PARSE_ARGS');
  const known = usage || KNOWN.some((kind) => error instanceof kind);
  print({ error: says });
  console.error(usage ? `${says}\n${USAGE}` : known ? says : error);
  process.exitCode = error instanceof Interrupted ? EXIT.interrupted : EXIT.cannotRead;
}

async function run(words: readonly string[]): Promise<number> {
  const { positionals, values } = parseArgs({
    args: [...words],
    allowPositionals: true,
    options: {
      anchor: { type: 'string' },
      against: { type: 'string' },
      at: { type: 'string' },
      file: { type: 'string' },
      session: { type: 'string' },
      patient: { type: 'string' },
      all: { type: 'boolean' },
      as: { type: 'string' },
      out: { type: 'string' },
      replace: { type: 'boolean' },
      'with-gaps': { type: 'boolean' },
    },
  });
  const [what, which] = positionals;
  switch (what) {
    case 'verify': {
      if (which === undefined) throw new Usage('name the file to verify');
      const file = resolve(which);
      const taken = chainExportIn(file);
      const { against = null, anchor: kept = null } = values;
      if (taken === null && against !== null) throw new Usage('--against is for an export: hold it against its ledger');
      const report =
        taken === null
          ? verify(file, kept)
          : verifyExport(file, taken, kept, against === null ? null : resolve(against));
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
    case 'export': {
      const report = await exportLedger(fileOf(which), values);
      print(report);
      return report.damaged.length === 0 ? EXIT.sound : EXIT.notSound;
    }
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
