import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { replay } from '../../core/ledger/replay.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { STATE_WORDS } from '../../core/procedure/states.ts';
import { recordTime } from '../../core/time/show.ts';
import { show } from '../../electron/auditing/reports.ts';
import { readEntries } from '../../electron/station/read-file.ts';
import { brokenAt, entriesIn } from '../station/independent-reading.ts';
import { newFolder, startFaultable, startStation } from '../station/station-under-test.ts';
import { NURSE, open, requestOf, treat, upTo } from '../station/treatment.ts';
import { behindItsBack, finishedLedger } from './finished-ledger.ts';
import { bytesBeside, ledgerCommand } from './ledger-command.ts';

const ledger = finishedLedger();

/** A copy of a folder as it is on disk at this moment. */
function copyOf(file: string): string {
  const folder = newFolder();
  cpSync(dirname(file), folder, { recursive: true });
  return join(folder, file.slice(dirname(file).length + 1));
}

describe('a session as it stood at a time', () => {
  test('at the time of every entry it is the fold of all that had been entered by then, and of no more', () => {
    const all = readEntries(ledger.file).filter((entry) => entry.sessionId === ledger.sessionId);
    for (const entry of all) {
      const until = all.filter(({ wallMs }) => wallMs <= entry.wallMs);
      const { record, state, entries } = show(ledger.file, ledger.sessionId, new Date(entry.wallMs).toISOString());
      expect(record).toStrictEqual(replay(until).context);
      expect(state).toBe(STATE_WORDS[stateOf(replay(until).context)]);
      expect(entries.map(({ seq }) => seq)).toStrictEqual(until.map(({ seq }) => seq));
    }
  });

  test('between two entries it is as after the first; a time as it is printed means all of its second', () => {
    const all = entriesIn(ledger.file).filter((entry) => entry.sessionId === ledger.sessionId);
    const start = all.find(({ kind }) => kind === 'start-pump');
    const before = new Date((start?.wallMs ?? 0) - 1).toISOString();
    expect(show(ledger.file, ledger.sessionId, before).state).toBe('line primed');
    const printed = recordTime(start?.wallMs ?? 0, start?.offsetMin ?? 0);
    expect(show(ledger.file, ledger.sessionId, printed).state).toBe('infusing');
  });

  test('after wall time was set back, what had been entered until then is all of it', async () => {
    const station = await startFaultable(newFolder());
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('identify'));
    await station.move({ wallStepMs: -3_600_000 });
    await station.when(() => entriesIn(station.database).some(({ kind }) => kind === 'clock-stepped'));
    await treat(station, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'check', item: 'consent' } }]);
    const [opened, , last] = entriesIn(station.database).filter((entry) => entry.sessionId === sessionId);
    const at = (wallMs: number) => show(station.database, sessionId, new Date(wallMs).toISOString()).entries.length;
    expect(at(last?.wallMs ?? 0)).toBe(3);
    expect(at(opened?.wallMs ?? 0)).toBe(3);
    expect(() => at((last?.wallMs ?? 0) - 1)).toThrow(/was not open yet/);
  });
});

describe('the command line', () => {
  test('says 0 of a sound ledger, 1 of one that is not, 2 of what it cannot read or do', async () => {
    const touched = ledger.copy();
    behindItsBack(touched, (db) => db.exec("UPDATE entries SET author = 'ZZ' WHERE seq = 7"));
    const junk = join(newFolder(), 'junk.sqlite3');
    writeFileSync(junk, 'junk');
    const asked: [code: number, words: string[]][] = [
      [0, ['verify', ledger.file]],
      [1, ['verify', touched]],
      [2, ['verify', junk]],
      [2, ['verify', join(newFolder(), 'none.sqlite3')]],
      [2, ['verify', ledger.file, '--anchor', 'dimroom:1']],
      [2, ['verify']],
      [2, ['mend', ledger.file]],
      [2, ['verify', ledger.file, '--quick']],
      [0, ['list', ledger.file]],
      [0, ['show', ledger.sessionId, '--file', ledger.file]],
      [2, ['show', 'nobody', '--file', ledger.file]],
      [2, ['show', ledger.sessionId, '--file', ledger.file, '--at', 'noon']],
    ];
    for (const [code, words] of asked) {
      const answer = await ledgerCommand(...words);
      expect([words, answer.code]).toStrictEqual([words, code]);
      if (code === 2) expect(answer.json).toStrictEqual({ error: expect.any(String) });
    }
    expect((await ledgerCommand('verify', touched)).json).toMatchObject({
      sound: false,
      problems: [{ seq: 7, since: expect.stringMatching(/^\d{4}-/) }],
    });
  });

  test('finds a cut tail by the anchor it printed itself', async () => {
    const { json } = await ledgerCommand('anchor', ledger.file);
    const held = String(json.anchor);
    const cut = ledger.copy();
    behindItsBack(cut, (db) => db.exec(`DELETE FROM entries WHERE seq > ${Number(json.seq) - 1}`));
    behindItsBack(cut, (db) => db.exec('DELETE FROM sessions WHERE opened_seq NOT IN (SELECT seq FROM entries)'));
    expect((await ledgerCommand('verify', cut)).code).toBe(0);
    expect((await ledgerCommand('verify', cut, '--anchor', held)).code).toBe(1);
    expect((await ledgerCommand('verify', ledger.file, '--anchor', held)).code).toBe(0);
  });

  test('lists sessions of a ledger of which one cannot be told any more', async () => {
    const touched = ledger.copy();
    behindItsBack(touched, (db) => db.exec("DELETE FROM entries WHERE kind = 'order'"));
    const { code, json } = await ledgerCommand('list', touched);
    expect(code).toBe(0);
    expect(json.sessions).toMatchObject([
      { state: expect.stringMatching(/^cannot be told: entry \d+/) },
      { state: 'planning' },
    ]);
  });

  test('a page amid the entries is damaged: what can be read is read, and the rest is said not to be', async () => {
    const touched = ledger.copy();
    const bytes = readFileSync(touched);
    const page = Math.floor(bytes.indexOf(entriesIn(ledger.file)[20]?.commandId ?? '') / 4096);
    bytes.fill(0xa5, page * 4096, (page + 1) * 4096);
    writeFileSync(touched, bytes);
    const { code, json } = await ledgerCommand('verify', touched);
    expect(code).toBe(1);
    expect(JSON.stringify(json.problems)).toMatch(/nothing can be read from here on|malformed/);
  });
});

describe('reading never changes a byte of what is read', () => {
  const all = (file: string, sessionId: string): string[][] => [
    ['verify', file],
    ['list', file],
    ['anchor', file],
    ['show', sessionId, '--file', file],
  ];

  test('of a finished ledger', async () => {
    const file = ledger.copy();
    const before = bytesBeside(file);
    for (const words of all(file, ledger.sessionId)) expect((await ledgerCommand(...words)).code).toBe(0);
    expect(bytesBeside(file)).toStrictEqual(before);
  });

  test('of one that a killed station left with its log, which nobody has taken in yet', async () => {
    const station = await startStation(newFolder());
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('prepare'));
    await station.kill();
    const before = bytesBeside(station.database);
    expect(Object.keys(before)).toHaveLength(2);
    for (const words of all(station.database, sessionId)) expect((await ledgerCommand(...words)).code).toBe(0);
    expect(bytesBeside(station.database)).toStrictEqual(before);
  });

  test('while a station writes: every reading is sound, and the station is not kept from anything', async () => {
    const station = await startStation(newFolder());
    const { sessionId } = await open(station);
    let written = 0;
    let over = false;
    const writing = (async () => {
      while (!over) {
        const note = requestOf(station, sessionId, { by: NURSE, command: { kind: 'note', words: 'patient is calm' } });
        const reply = await station.ask(note);
        if (reply.type === 'entered') written += 1;
        await station.look();
      }
    })();
    for (const words of all(station.database, sessionId)) expect((await ledgerCommand(...words)).code).toBe(0);
    over = true;
    await writing;
    const notes = entriesIn(station.database).filter(({ kind }) => kind === 'note');
    expect(notes).toHaveLength(written);
    expect(written).toBeGreaterThan(0);
    expect(station.latest().notYetSafe).toBeNull();
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });

  test('of one beside a station that is not writing just then', async () => {
    const station = await startStation(newFolder());
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('identify'));
    const before = bytesBeside(copyOf(station.database));
    for (const words of all(station.database, sessionId)) expect((await ledgerCommand(...words)).code).toBe(0);
    expect(bytesBeside(station.database)).toStrictEqual(before);
  });
});
