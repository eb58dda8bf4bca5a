import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import type { Entry } from '../../core/ledger/entry.ts';
import type { Session } from '../../core/procedure/session.ts';
import type { Extract } from '../../core/report/extract.ts';
import { ledgerStore } from '../../electron/station/ledger.ts';
import { openDatabase } from '../../electron/station/open-database.ts';
import { bytesBeside } from '../ledger/ledger-command.ts';
import {
  chained,
  type EntryDraft,
  entriesOf,
  momentAt,
  OPENED_AT_MS,
  opened,
  played,
  type Step,
} from '../session-steps.ts';

export const FILE_ID = '0d9c1f5e-7a44-4b1e-9a35-2c6f6f0b7e11';

/** A session of a ledger made for a test: its steps, in a session of its own. */
export interface Told {
  readonly id: string;
  readonly steps: readonly Step[];
  readonly practice?: boolean;
  /** Entries of the station during the session. */
  readonly station?: readonly EntryDraft[];
}

const draftOf = ({ seq: _seq, prevHash: _prev, hash: _hash, ...draft }: Entry): EntryDraft => draft;

/** The entries that a session's steps become, the clock's included. */
export function draftsOf({ id, steps, practice = false }: Told): EntryDraft[] {
  const from: Session = opened({}, practice);
  const { events } = played(steps, from);
  return entriesOf(events).map((entry) => {
    const draft = draftOf(entry);
    const payload = entry.kind === 'open-session' ? { ...draft.payload, practice } : draft.payload;
    const commandId = draft.commandId === null ? null : `${id} ${draft.commandId} ${entry.seq}`;
    return { ...draft, payload, sessionId: id, commandId };
  });
}

const FIRST: EntryDraft = {
  sessionId: null,
  kind: 'station-started',
  payload: { first: true, file: FILE_ID },
  ...momentAt(OPENED_AT_MS - 1000),
  author: { initials: 'station', role: 'station' },
  commandId: null,
};

/** Sessions under way at once, as one chain: their entries in the order of the clock. */
export function chainOf(told: readonly Told[]): Entry[] {
  const drafts = told.flatMap((one) => [...draftsOf(one), ...(one.station ?? [])]);
  return chained([FIRST, ...drafts.toSorted((one, other) => one.continuousMs - other.continuousMs)]);
}

/** The same in a real ledger's file. */
export function ledgerOf(told: readonly Told[], folder: string): string {
  const file = join(folder, 'ledger.sqlite3');
  const store = ledgerStore(openDatabase(file));
  for (const entry of chainOf(told)) store.insert(entry);
  store.close();
  return file;
}

/** One session of a chain, as it is taken out of a ledger. */
export function extractOf(entries: readonly Entry[], sessionId: string, fileId = FILE_ID): Extract {
  const own = entries.filter((entry) => entry.sessionId === sessionId);
  const [first, last, head] = [own[0], own.at(-1), entries.at(-1)];
  if (first === undefined || last === undefined || head === undefined)
    throw new Error(`there is no session ${sessionId}`);
  const within = ({ seq }: Entry): boolean => seq >= first.seq && seq <= last.seq;
  return {
    fileId,
    head: { seq: head.seq, hash: head.hash },
    sessionId,
    practice: first.payload.practice === true,
    entries: own,
    stationEntries: entries.filter((entry) => entry.sessionId === null && within(entry)),
    unreadable: [],
  };
}

/** An extract of a ledger that holds one session. */
export const extractOfSteps = (steps: readonly Step[], practice = false, id = 'session-one'): Extract =>
  extractOf(chainOf([{ id, steps, practice }]), id);

/** A folder that is gone once the file's tests are over. */
export function folderForAll(): string {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-test-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Everything in a folder, hidden things too. */
export const inFolder = (folder: string): string[] => readdirSync(folder).sort();

export const textOf = (path: string): string => readFileSync(path, 'utf8');

/** What a ledger holds on disk. A log beside it that is empty holds nothing: SQLite makes one whenever it reads. */
export const heldIn = (file: string): Record<string, string> =>
  Object.fromEntries(Object.entries(bytesBeside(file)).filter(([, hash]) => hash !== SHA256_OF_NOTHING));

const SHA256_OF_NOTHING = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';
