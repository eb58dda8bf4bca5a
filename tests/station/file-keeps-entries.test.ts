import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { following, ledgerStore } from '../../electron/station/ledger.ts';
import { openDatabase } from '../../electron/station/open-database.ts';
import { brokenAt, entriesIn } from './independent-reading.ts';
import { newFolder } from './station-under-test.ts';
import { NURSE } from './treatment.ts';

/*
 * The file itself refuses: each statement is run by a plain connection of another SQLite library, as somebody with a
 * database tool would.
 */

const WALL_MS = Date.UTC(2031, 1, 3, 9);
const momentAt = (continuousMs: number) => ({
  continuousMs,
  boot: 'boot-one',
  wallMs: WALL_MS + Math.round(continuousMs),
  offsetMin: 60,
});

/** A ledger of four entries, in a file that nobody else has open. */
function ledgerFile(): string {
  const file = join(newFolder(), 'ledger.sqlite3');
  copyFileSync(join(made, 'ledger.sqlite3'), file);
  return file;
}

let made: string;
beforeAll(() => {
  made = mkdtempSync(join(tmpdir(), 'dimroom-test-'));
  makeLedger(join(made, 'ledger.sqlite3'));
});
afterAll(() => rmSync(made, { recursive: true }));

function makeLedger(file: string): void {
  const store = ledgerStore(openDatabase(file));
  const draft = (kind: string, continuousMs: number, payload = {}) =>
    store.insert(
      following(
        {
          sessionId: 'session-one',
          kind,
          payload,
          at: momentAt(continuousMs),
          by: NURSE,
          commandId: `command-${kind}`,
        },
        store.last(),
      ),
    );
  draft('open-session', 0, { practice: false });
  draft('note', 10_000.125, { words: 'patient is calm' });
  draft('check', 20_000, { item: 'consent' });
  draft('deviation', 30_000, { words: 'the lamp was on', reason: 'the blind is broken' });
  store.close();
}

function plainConnection(file: string, recursiveTriggers: boolean): DatabaseSync {
  const db = new DatabaseSync(file);
  onTestFinished(() => db.close());
  db.exec(`PRAGMA recursive_triggers = ${recursiveTriggers ? 'ON' : 'OFF'}`);
  return db;
}

const COLUMNS = [
  'seq',
  'session',
  'kind',
  'payload',
  'wall_ms',
  'offset_min',
  'continuous_ms',
  'boot',
  'author',
  'role',
  'command_id',
  'prev_hash',
  'hash',
] as const;
type NewRow = Partial<Record<(typeof COLUMNS)[number], string | number | null>>;

const LAST_HASH = '(SELECT hash FROM entries ORDER BY seq DESC LIMIT 1)';
const HASH_2 = '(SELECT hash FROM entries WHERE seq = 2)';
const HASH_1 = '(SELECT hash FROM entries WHERE seq = 1)';

/** The entry that may come next, except for what is said. Values are SQL. */
function insert(verb: string, changed: NewRow, after = ''): string {
  const row = {
    seq: 5,
    session: "'session-one'",
    kind: "'note'",
    payload: `'{"words":"another"}'`,
    wall_ms: WALL_MS + 40_000,
    offset_min: 60,
    continuous_ms: '40000.0',
    boot: "'boot-one'",
    author: "'MO'",
    role: "'nurse'",
    command_id: "'command-another'",
    prev_hash: LAST_HASH,
    hash: `'${'5'.repeat(64)}'`,
    ...changed,
  };
  return `${verb} INTO entries VALUES (${COLUMNS.map((name) => row[name] ?? 'NULL').join(', ')}) ${after}`;
}

const VERBS = ['INSERT', 'INSERT OR REPLACE', 'REPLACE', 'INSERT OR IGNORE', 'INSERT OR FAIL', 'INSERT OR ROLLBACK'];
const UPSERTS = [
  'ON CONFLICT (seq) DO UPDATE SET payload = excluded.payload',
  'ON CONFLICT (hash) DO UPDATE SET payload = excluded.payload',
  'ON CONFLICT (command_id) DO UPDATE SET payload = excluded.payload',
  'ON CONFLICT DO NOTHING',
];
const TAKEN: Record<string, NewRow> = {
  'a sequence that is there': { seq: 2 },
  'a sequence that is there, in its own place in the chain': { seq: 2, prev_hash: HASH_1 },
  'a hash that is there': { hash: HASH_2 },
  'a command that is there': { command_id: "'command-note'" },
  'a whole entry that is there': { seq: 2, hash: HASH_2, command_id: "'command-note'", prev_hash: HASH_1 },
};
const OUT_OF_PLACE: Record<string, NewRow> = {
  'a gap before it': { seq: 6 },
  'sequence 0': { seq: 0 },
  'a sequence below 0': { seq: -1 },
  'no sequence of its own': { seq: 'NULL' },
  'the start of a chain before it': { prev_hash: `'${'0'.repeat(64)}'` },
  'another entry than the last before it': { prev_hash: HASH_2 },
};
const WRONG_VALUES: Record<string, NewRow> = {
  'words where milliseconds belong': { wall_ms: "'nine'" },
  'half a millisecond of wall time': { wall_ms: 1.5 },
  'words where continuous time belongs': { continuous_ms: "'soon'" },
  'a payload that is not JSON': { payload: "'words'" },
  'bytes where a kind belongs': { kind: "x'00ff'" },
  'no author': { author: 'NULL' },
  'no boot': { boot: 'NULL' },
};

const CHANGES: Record<string, string> = {
  'a changed payload': `UPDATE entries SET payload = '{"words":"patient is upset"}' WHERE seq = 2`,
  'a changed time': 'UPDATE entries SET wall_ms = wall_ms - 60000 WHERE seq = 4',
  'a changed author': "UPDATE entries SET author = 'TK' WHERE seq = 3",
  'one moved onto another': 'UPDATE OR REPLACE entries SET seq = 2 WHERE seq = 3',
  'a change that is to be ignored where refused': "UPDATE OR IGNORE entries SET author = 'TK' WHERE seq = 3",
  'the last one removed': 'DELETE FROM entries WHERE seq = 4',
  'one in the middle removed': 'DELETE FROM entries WHERE seq = 2',
  'all removed': 'DELETE FROM entries',
};

const SESSION_CHANGES: Record<string, string> = {
  'a session made practice': 'UPDATE sessions SET practice = 1',
  'a session removed': 'DELETE FROM sessions',
  'a session entered again': "INSERT INTO sessions VALUES ('session-one', 9, 0)",
  'a session replaced': "INSERT OR REPLACE INTO sessions VALUES ('session-one', 1, 1)",
  'a session replaced by another of its entry': "REPLACE INTO sessions VALUES ('session-two', 1, 1)",
  'a session ignored where it is there': "INSERT OR IGNORE INTO sessions VALUES ('session-one', 9, 1)",
  'a session changed where it is there':
    "INSERT INTO sessions VALUES ('session-one', 1, 1) ON CONFLICT (id) DO UPDATE SET practice = 1",
  'a session that is neither practice nor not': "INSERT INTO sessions VALUES ('session-two', 9, 2)",
  'a session opened by words': "INSERT INTO sessions VALUES ('session-two', 'nine', 0)",
};

const named = (rows: Record<string, NewRow>, verbs: readonly string[]): [string, string][] =>
  Object.entries(rows).flatMap(([name, row]) =>
    verbs.map((verb): [string, string] => [`${name}, by ${verb}`, insert(verb, row)]),
  );
const upserts = Object.entries(TAKEN).flatMap(([name, row]) =>
  UPSERTS.map((after): [string, string] => [`${name}, ${after}`, insert('INSERT', row, after)]),
);
const REFUSED: [string, string][] = [
  ...Object.entries(CHANGES),
  ...named(TAKEN, VERBS),
  ...upserts,
  ...named(OUT_OF_PLACE, VERBS),
  ...named(WRONG_VALUES, ['INSERT', 'INSERT OR REPLACE']),
  ...Object.entries(SESSION_CHANGES),
];

const sessionsIn = (db: DatabaseSync) => db.prepare('SELECT * FROM sessions').all();

describe.each([false, true])('through a plain connection, recursive triggers %s', (recursive) => {
  test('the entry that may come next is taken, so that a refusal below is for what is wrong with it', () => {
    const file = ledgerFile();
    plainConnection(file, recursive).exec(insert('INSERT', {}));
    expect(entriesIn(file)).toHaveLength(5);
  });

  test.each(REFUSED)('refuses %s', (_name, statement) => {
    const file = ledgerFile();
    const before = entriesIn(file);
    const db = plainConnection(file, recursive);
    const sessions = sessionsIn(db);
    expect(() => db.exec(statement)).toThrow();
    expect(entriesIn(file)).toStrictEqual(before);
    expect(sessionsIn(db)).toStrictEqual(sessions);
    expect(brokenAt(before)).toStrictEqual([]);
  });
});

test('what somebody changed behind the triggers shows in the chain, at the entry and nowhere before it', () => {
  const file = ledgerFile();
  const db = plainConnection(file, false);
  db.exec(`DROP TRIGGER entries_stay; UPDATE entries SET author = 'TK' WHERE seq = 3`);
  expect(brokenAt(entriesIn(file))).toStrictEqual([3]);
});
