import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { MIGRATIONS } from '../../electron/station/migrations/index.ts';
import { asItWas, openDatabase } from '../../electron/station/open-database.ts';
import { readLedgerFile } from '../../electron/station/read-file.ts';
import { ledgerCommand } from '../ledger/ledger-command.ts';
import { brokenAt, entriesIn, reading } from '../station/independent-reading.ts';
import { startStation } from '../station/station-under-test.ts';
import { open } from '../station/treatment.ts';
import { isKept, keptLedger, ledgerFrom } from './kept-ledgers.ts';

const VERSIONS = MIGRATIONS.map((_migration, index) => index + 1);

describe.each(VERSIONS)('a ledger of schema %i', (version) => {
  test('is kept here, so that every later version is tried on it', () => {
    expect(isKept(version), `keep one as ${keptLedger(version)}: see kept-ledgers.ts`).toBe(true);
    expect(versionOf(ledgerFrom(version).file)).toBe(version);
  });

  test('has exactly the schema that its migrations make today: none that has shipped was edited', () => {
    const { file } = ledgerFrom(version);
    // Read as it is, before anything is brought up to date.
    const ledger = readLedgerFile(file);
    expect(ledger.structure()).toEqual([]);
    ledger.close();
  });

  test('opens with every entry as it was, in the present schema', () => {
    const { file } = ledgerFrom(version);
    const before = entriesIn(file);
    expect(before.length).toBeGreaterThan(100);
    openDatabase(file).close();
    expect(versionOf(file)).toBe(MIGRATIONS.length);
    expect(entriesIn(file)).toEqual(before);
    expect(brokenAt(entriesIn(file))).toEqual([]);
  });

  test('that is brought up to date stays beside it as it was', () => {
    const { file } = ledgerFrom(version);
    const before = entriesIn(file);
    openDatabase(file).close();
    const copy = asItWas(file, version);
    expect(existsSync(copy)).toBe(version < MIGRATIONS.length);
    if (!existsSync(copy)) return;
    expect(versionOf(copy)).toBe(version);
    expect(entriesIn(copy)).toEqual(before);
  });

  test('opens again as it opened first', () => {
    const { file } = ledgerFrom(version);
    openDatabase(file).close();
    const schema = schemaOf(file);
    openDatabase(file).close();
    expect(schemaOf(file)).toEqual(schema);
  });

  test('is sound for the ledger command once a station has worked on it', async () => {
    const { data, file } = ledgerFrom(version);
    const before = entriesIn(file);
    const station = await startStation(data, '--practice');
    const { sessionId } = await open(station);
    expect(station.view(sessionId).state).toBe('planning');
    await station.stop();
    const after = entriesIn(file);
    expect(after.slice(0, before.length)).toEqual(before);
    expect(after.slice(before.length).map(({ kind }) => kind)).toContain('open-session');
    const { code, json } = await ledgerCommand('verify', file);
    expect({ code, problems: json.problems }).toEqual({ code: 0, problems: [] });
  });
});

const versionOf = (file: string): unknown =>
  reading(file, (db) => db.prepare('SELECT user_version FROM pragma_user_version').get())?.user_version;

const schemaOf = (file: string): unknown =>
  reading(file, (db) => db.prepare('SELECT name, sql FROM sqlite_schema ORDER BY name').all());
