import { dirname, resolve } from 'node:path';
import { SESSION_FORMS, type SessionForm } from '../../core/protocol/exporting.ts';
import { type Exported, exportFrom, type Wanted } from '../export/export.ts';
import { openExtracts } from '../station/extracts.ts';
import { readHouse } from '../station/house.ts';
import { settingsInFile } from '../station/settings-in-file.ts';
import { Usage } from './usage.ts';

/** What was said after `export`. */
export interface ExportWords {
  readonly session?: string | undefined;
  readonly patient?: string | undefined;
  readonly all?: boolean | undefined;
  readonly as?: string | undefined;
  readonly out?: string | undefined;
  readonly replace?: boolean | undefined;
  readonly 'with-gaps'?: boolean | undefined;
}

/** An export that a person ended before it was whole. */
export class Interrupted extends Error {
  constructor() {
    super('interrupted: nothing was written');
  }
}

/**
 * Exports from a ledger that is only ever read. Limits are those that a station would start with there: the last in the
 * ledger, or those of a settings file beside it that the ledger has not taken yet.
 *
 * @throws Usage, CannotWrite, Withheld, RangeError, Unreadable, Interrupted
 */
export async function exportLedger(file: string, words: ExportWords): Promise<{ file: string } & Exported> {
  const wanted = wantedOf(words);
  if (words.out === undefined) throw new Usage('say where to with --out PATH');
  const inForce = settingsInFile(file);
  const house = readHouse(dirname(file), inForce.settings, inForce.fileSha256);
  for (const trouble of house.trouble) say(trouble);
  const ended = new AbortController();
  const end = (): void => ended.abort(new Interrupted());
  // Every time: a second one, as from a terminal and from npm at once, would otherwise end it before it has cleared up.
  process.on('SIGINT', end).on('SIGTERM', end);
  const source = openExtracts(file);
  try {
    const to = { out: resolve(words.out), replace: words.replace ?? false, signal: ended.signal, say };
    return { file, ...(await exportFrom(source, wanted, house.settings.limits, to)) };
  } finally {
    source.close();
    process.off('SIGINT', end).off('SIGTERM', end);
  }
}

/** What is exported goes to standard output as JSON; what is on its way, to standard error. */
const say = (words: string): void => console.error(`export: ${words}`);

const TABLE = 'sessions-csv';

function wantedOf({ session, patient, all, as, 'with-gaps': withGaps = false }: ExportWords): Wanted {
  const subjects = [session, patient, all === true ? 'all' : undefined].filter((one) => one !== undefined);
  if (subjects.length > 1) throw new Usage('say one of --session ID, --patient CODE and --all');
  if (session !== undefined) {
    if (!isSessionForm(as)) throw new Usage(`a session is exported --as ${SESSION_FORMS.join(', ')}`);
    if (withGaps && as !== 'json') throw new Usage('gaps are of the chain: --with-gaps goes with --as json');
    return { what: 'session', sessionId: session, as, withGaps };
  }
  if (patient !== undefined && as !== TABLE) {
    if (as !== 'json' && as !== 'folder') throw new Usage(`a patient is exported --as json, folder or ${TABLE}`);
    return { what: 'patient', patientCode: patient, as, withGaps };
  }
  if (patient === undefined && all !== true && as !== TABLE) {
    throw new Usage('say what to export: --session ID, --patient CODE or --all');
  }
  if (as !== undefined && as !== TABLE && as !== 'csv') throw new Usage(`all sessions are exported --as ${TABLE}`);
  if (withGaps) throw new Usage('a table has no chain, and so no gaps');
  return { what: 'sessions', patientCode: patient ?? null };
}

const isSessionForm = (as: string | undefined): as is SessionForm =>
  (SESSION_FORMS as readonly (string | undefined)[]).includes(as);
