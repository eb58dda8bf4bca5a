import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, onTestFinished, test } from 'vitest';
import { isDamaged } from '../../electron/station/damage.ts';
import { following, ledgerStore } from '../../electron/station/ledger.ts';
import { MIGRATIONS } from '../../electron/station/migrations/index.ts';
import { DatabaseDamaged, DatabaseRefused, openDatabase } from '../../electron/station/open-database.ts';
import { reading } from './independent-reading.ts';
import { newFolder, startStation } from './station-under-test.ts';
import { NURSE } from './treatment.ts';

const SETTINGS = {
  journal_mode: 'wal',
  synchronous: 2,
  foreign_keys: 1,
  recursive_triggers: 1,
  trusted_schema: 0,
  cell_size_check: 1,
};

function settingsOf(file: string): Record<string, unknown> {
  const db = openDatabase(file);
  const held = Object.keys(SETTINGS).map((name) => [name, db.pragma(name, { simple: true })]);
  db.close();
  return Object.fromEntries(held);
}

/** Makes a file with another SQLite library, and nothing of ours. */
function fileWith(sql: string): string {
  const file = join(newFolder(), 'ledger.sqlite3');
  const db = new DatabaseSync(file);
  db.exec(sql);
  db.close();
  return file;
}

function fileOf(bytes: Buffer | string): string {
  const file = join(newFolder(), 'ledger.sqlite3');
  writeFileSync(file, bytes);
  return file;
}

const OURS = 'PRAGMA application_id = 0x44494d52';
const tablesIn = (file: string) => reading(file, (db) => db.prepare('SELECT name FROM sqlite_schema').all());
const versionOf = (file: string) =>
  reading(file, (db) => db.prepare('SELECT user_version FROM pragma_user_version').get())?.user_version;

describe('an entry is on disk when it is said to be', () => {
  test('in a new file, and in the same file opened again and again', () => {
    const file = join(newFolder(), 'ledger.sqlite3');
    expect(settingsOf(file)).toStrictEqual(SETTINGS);
    expect(settingsOf(file)).toStrictEqual(SETTINGS);
    expect(settingsOf(file)).toStrictEqual(SETTINGS);
  });

  test('in a file that was kept in another journal mode meanwhile', () => {
    const file = join(newFolder(), 'ledger.sqlite3');
    settingsOf(file);
    const db = new DatabaseSync(file);
    db.exec('PRAGMA journal_mode = DELETE');
    db.close();
    expect(settingsOf(file)).toStrictEqual(SETTINGS);
  });
});

test('every table is strict: a value of another type is no value', () => {
  const file = join(newFolder(), 'ledger.sqlite3');
  openDatabase(file).close();
  const tables = reading(file, (db) =>
    db.prepare("SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite_%'").all(),
  );
  const strict = Object.fromEntries(tables.map(({ name, strict }) => [name, strict]));
  expect(strict).toStrictEqual({ entries: 1, sessions: 1 });
});

test('an entry of no session, or of one that is there, is taken; one of a session that is not there is not', () => {
  const db = openDatabase(join(newFolder(), 'ledger.sqlite3'));
  onTestFinished(() => void db.close());
  const store = ledgerStore(db);
  const at = { continuousMs: 1, boot: 'boot-one', wallMs: 1, offsetMin: 0 };
  const draft = { kind: 'note', payload: { words: 'calm' }, at, by: NURSE, commandId: null };
  const add = (sessionId: string | null) => store.insert(following({ ...draft, sessionId }, store.last()));
  add(null);
  expect(store.last()?.seq).toBe(1);
  expect(() => add('nobody')).toThrow(/FOREIGN KEY/);
  expect(store.last()?.seq).toBe(1);
});

describe('a file that is not a ledger of this version is refused with a sentence and left as it was', () => {
  test.each([
    [
      "another program's database",
      () => fileWith('CREATE TABLE songs (title TEXT)'),
      /is not a Dimroom ledger: choose/,
    ],
    [
      'a newer version',
      () => fileWith(`${OURS}; PRAGMA user_version = 99; CREATE TABLE entries (seq)`),
      /newer Dimroom/,
    ],
  ])('%s', (_name, make, sentence) => {
    const file = make();
    const before = readFileSync(file);
    expect(() => openDatabase(file)).toThrow(DatabaseRefused);
    expect(() => openDatabase(file)).toThrow(sentence);
    expect(() => openDatabase(file)).toThrow(file);
    const after = readFileSync(file);
    if (!/newer/.test(String(sentence))) expect(after.equals(before)).toBe(true);
  });

  test("a newer version's content", () => {
    const file = fileWith(
      `${OURS}; PRAGMA user_version = 99; CREATE TABLE entries (seq); INSERT INTO entries VALUES (7)`,
    );
    expect(() => openDatabase(file)).toThrow(DatabaseRefused);
    expect(reading(file, (db) => db.prepare('SELECT * FROM entries').all())).toMatchObject([{ seq: 7 }]);
    expect(versionOf(file)).toBe(99);
  });

  test('the station says so to whoever started it, and ends with a code that says: do not start me again', async () => {
    const file = fileWith('CREATE TABLE songs (title TEXT)');
    await expect(startStation(dirname(file))).rejects.toMatchObject({
      message: expect.stringMatching(/ledger\.sqlite3 is not a Dimroom ledger: choose another data folder/),
      code: 3,
    });
  });

  test('a data folder that is a file', async () => {
    const file = fileOf('hello');
    await expect(startStation(file)).rejects.toMatchObject({
      message: expect.stringMatching(/cannot be used as a data folder: choose another/),
      code: 3,
    });
  });

  test('a ledger that is a folder', async () => {
    const data = newFolder();
    mkdirSync(join(data, 'ledger.sqlite3'));
    await expect(startStation(data)).rejects.toMatchObject({
      message: expect.stringMatching(/ledger\.sqlite3 cannot be opened/),
      code: 3,
    });
  });
});

describe('a file that SQLite can make nothing of is damaged, and opening it leaves it as it was', () => {
  const damagedLedger = (): string => {
    const file = join(newFolder(), 'ledger.sqlite3');
    openDatabase(file).close();
    const bytes = readFileSync(file);
    bytes.fill(0xa5, 100, 4096);
    writeFileSync(file, bytes);
    return file;
  };

  test.each([
    ['junk', () => fileOf(randomBytes(8192))],
    ['a few letters', () => fileOf('hello')],
    ['a text', () => fileOf('seq,kind,words\n'.repeat(1000))],
    ['a ledger whose first page is written over behind the header', damagedLedger],
  ])('%s', (_name, make) => {
    const file = make();
    const before = readFileSync(file);
    expect(isDamaged(file)).toBe(true);
    expect(() => openDatabase(file)).toThrow(DatabaseDamaged);
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  test.each([
    ['a file that is not there', () => join(newFolder(), 'ledger.sqlite3')],
    ['an empty file', () => fileOf('')],
    ["another program's database", () => fileWith('CREATE TABLE songs (title TEXT)')],
  ])('%s is not damaged', (_name, make) => {
    expect(isDamaged(make())).toBe(false);
  });
});

describe('bringing a file up to the present schema', () => {
  test('a new file is at the last version, and opening it again changes nothing in it', () => {
    const file = join(newFolder(), 'ledger.sqlite3');
    openDatabase(file).close();
    const tables = tablesIn(file);
    expect(versionOf(file)).toBe(MIGRATIONS.length);
    openDatabase(file).close();
    expect(tablesIn(file)).toStrictEqual(tables);
  });

  test('a migration that cannot be finished leaves nothing of itself behind', () => {
    const file = fileWith(`${OURS}; CREATE TABLE entries (seq)`);
    expect(() => openDatabase(file)).toThrow(/already exists/);
    expect(tablesIn(file)).toMatchObject([{ name: 'entries' }]);
    expect(versionOf(file)).toBe(0);
  });

  test('an empty file is begun as a ledger', () => {
    const file = fileOf('');
    openDatabase(file).close();
    expect(versionOf(file)).toBe(MIGRATIONS.length);
  });
});
