import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Entry } from '../../core/ledger/entry.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import type { Message } from '../../core/protocol/messages.ts';
import type { SettingValues } from '../../core/settings/names.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { readEntries } from '../../electron/station/read-file.ts';
import { settingsInFile } from '../../electron/station/settings-in-file.ts';
import { sha256 } from '../../electron/station/sha256.ts';
import {
  newFolder,
  newRequestId,
  roomFor,
  type StationUnderTest,
  startStation,
  startWith,
} from '../station/station-under-test.ts';
import { NURSE, OTHER_NURSE, open, TREATMENT, treat } from '../station/treatment.ts';

/** A real station whose settings are changed as a screen changes them. */
const startedOn = (folder: string): Promise<StationUnderTest> => startStation(folder, '--practice', '--stepped');

const settingsEntries = (station: StationUnderTest): Entry[] =>
  readEntries(station.database).filter(({ kind }) => kind === 'settings');

const fileIn = (folder: string): string => join(folder, 'settings.json');

async function history(station: StationUnderTest): Promise<Extract<Message, { type: 'settings-history' }>> {
  const answer = await station.ask({ type: 'settings-history', requestId: newRequestId() });
  if (answer.type !== 'settings-history') throw new Error(JSON.stringify(answer));
  return answer;
}

async function request(station: StationUnderTest, to: object, more: object = {}) {
  const { settingsSeq } = await station.look();
  return { type: 'change-settings', requestId: newRequestId(), by: NURSE, seenSeq: settingsSeq, to, ...more };
}

const change = async (station: StationUnderTest, values: SettingValues, more: object = {}): Promise<Message> =>
  station.ask(await request(station, { kind: 'values', values }, more));

const bytes = (text: string): string => Buffer.from(text).toString('base64');

describe('a setting changed on the screen', () => {
  test('is one entry by that person, with what it was and why, before any screen has it', async () => {
    const station = await startedOn(newFolder());
    const seen: number[] = [];
    station.onSnapshot(({ settings }) => {
      if (settings.graduationMl === 0.2) seen.push(settingsEntries(station).length);
    });
    const answer = await change(station, { graduationMl: 0.2 }, { reason: 'new syringes' });
    const entry = settingsEntries(station).at(-1);
    expect(answer).toMatchObject({ type: 'settings-changed', seq: entry?.seq });
    expect(await station.look()).toMatchObject({ settings: { graduationMl: 0.2 }, settingsSeq: entry?.seq });
    expect(entry).toMatchObject({
      author: NURSE,
      sessionId: null,
      payload: {
        settings: { ...DEFAULT_SETTINGS, graduationMl: 0.2 },
        from: 'the settings screen',
        changes: [{ name: 'graduationMl', before: 0.1, after: 0.2 }],
        reason: 'new syringes',
      },
    });
    expect(entry && wordsFor(entry)).toBe(
      'site settings, from the settings screen: syringe is graduated in: 0.1 mL → 0.2 mL. Reason: new syringes',
    );
    expect((await station.look()).settings.graduationMl).toBe(0.2);
    expect(seen.length).toBeGreaterThan(0);
    expect(seen.every((entries) => entries === 2)).toBe(true);
    await station.stop();
  });

  test('is in force after a restart, and who changed it last is known', async () => {
    const folder = newFolder();
    const first = await startedOn(folder);
    await change(first, { latePressS: 60, 'limits.holdMaxS': 90 });
    await change(first, { latePressS: 45 }, { by: OTHER_NURSE });
    await first.kill();
    const second = await startedOn(folder);
    expect(second.latest().settings).toEqual({
      ...DEFAULT_SETTINGS,
      latePressS: 45,
      limits: { ...DEFAULT_SETTINGS.limits, holdMaxS: 90 },
    });
    const { changed } = await history(second);
    expect(changed.latePressS).toMatchObject({ by: OTHER_NURSE, from: 'the settings screen', reason: null });
    expect(changed['limits.holdMaxS']).toMatchObject({ by: NURSE });
    expect(Object.keys(changed).sort()).toEqual(['latePressS', 'limits.holdMaxS']);
    await second.stop();
    expect(settingsEntries(second)).toHaveLength(3);
    expect(settingsInFile(second.database).settings.latePressS).toBe(45);
  });

  test('is not one of a session that is open, and is one of the next', async () => {
    const station = await startedOn(newFolder());
    const { sessionId: before } = await open(station);
    await change(station, { profile: 'eu' });
    const { sessionId: after } = await open(station);
    expect(station.view(before).settings.profile).toBe('us');
    expect(station.view(after).settings.profile).toBe('eu');
    await station.stop();
  });

  test('is entered once, however often it is sent', async () => {
    const station = await startedOn(newFolder());
    const sent = await request(station, { kind: 'values', values: { spokenCues: true } });
    const [first, again] = [await station.ask(sent), await station.ask(sent)];
    expect(again).toEqual(first);
    expect(settingsEntries(station)).toHaveLength(2);
    await station.stop();
  });

  test.each<[string, SettingValues, RegExp]>([
    ['out of its limits', { graduationMl: 2 }, /graduationMl: /],
    ['of another kind', { formula: 7 }, /formula: /],
    ['nothing, where something has to be', { latePressS: null }, /latePressS: /],
    ['in force already', { profile: 'us' }, /that is what is in force already/],
  ])('that is %s changes nothing, and says why', async (_what, values, says) => {
    const station = await startedOn(newFolder());
    expect(await change(station, values)).toMatchObject({ type: 'error', says: expect.stringMatching(says) });
    expect((await station.look()).settings).toEqual(DEFAULT_SETTINGS);
    expect(settingsEntries(station)).toHaveLength(1);
    await station.stop();
  });

  test('with a good one beside a bad one changes neither', async () => {
    const station = await startedOn(newFolder());
    expect(await change(station, { latePressS: 60, lineMl: 99 })).toMatchObject({ type: 'error' });
    expect((await station.look()).settings).toEqual(DEFAULT_SETTINGS);
    await station.stop();
  });

  test('of which there is no such is not understood', async () => {
    const station = await startedOn(newFolder());
    const answer = await station.ask(await request(station, { kind: 'values', values: { colour: 'red' } }));
    expect(answer).toMatchObject({
      type: 'error',
      says: expect.stringMatching(/^not understood, nothing has changed/),
    });
    await station.stop();
  });

  test('by somebody who has not seen what another changed meanwhile is not changed', async () => {
    const station = await startedOn(newFolder());
    const { settingsSeq: seenSeq } = await station.look();
    await change(station, { latePressS: 60 });
    const late = await change(station, { latePressS: 30 }, { seenSeq, by: OTHER_NURSE });
    expect(late).toMatchObject({ type: 'error', says: expect.stringMatching(/changed by MO meanwhile: look/) });
    expect((await station.look()).settings.latePressS).toBe(60);
    await station.stop();
  });
});

describe('where people sign in', () => {
  const ADMINISTRATOR = { initials: 'AD', role: 'nurse' } as const;
  const asked = (by: object) => ({
    type: 'change-settings',
    by,
    seenSeq: 2,
    to: { kind: 'values', values: { latePressS: 60 } },
  });

  test('an administrator changes settings, and nobody else does', async () => {
    const station = await startWith(roomFor(newFolder()));
    const office = station.at('office');
    const bedside = station.at('bedside');
    expect(await office.ask(asked(ADMINISTRATOR))).toMatchObject({
      type: 'error',
      says: expect.stringMatching(/sign|roster/),
    });
    await office.ask({ type: 'first-administrator', name: 'the administrator', ...ADMINISTRATOR, pin: '284159' });
    const join = { change: 'join', name: 'a nurse', ...NURSE, administers: false };
    await office.ask({ type: 'change-roster', change: join, pin: '907163' });
    expect(await bedside.ask({ type: 'sign-in', initials: 'MO', pin: '907163', as: 'hands' })).toMatchObject({
      type: 'hands',
    });
    for (const by of [NURSE, ADMINISTRATOR]) {
      expect(await bedside.ask(asked(by)), by.initials).toMatchObject({ type: 'error' });
    }
    expect(await bedside.ask({ type: 'settings-history' })).toMatchObject({ type: 'settings-history' });
    expect((await station.look()).settingsSeq).toBe(2);
    expect((await station.look()).settings).toEqual(DEFAULT_SETTINGS);
    expect(await office.ask(asked(ADMINISTRATOR))).toMatchObject({ type: 'settings-changed' });
    expect((await station.look()).settings.latePressS).toBe(60);
    await station.stop();
  });
});

describe('what works by a setting', () => {
  test('reads the ledger by new limits at once', async () => {
    const station = await startedOn(newFolder());
    const { sessionId } = await open(station);
    for (const step of TREATMENT) {
      await station.advanceTo(step.atS * 1000);
      await treat(station, sessionId, [step]);
    }
    const deviations = async (): Promise<string[]> => {
      const answer = await station.reply({ type: 'reading', requestId: newRequestId(), sessionId });
      if (answer.type !== 'reading') throw new Error(JSON.stringify(answer));
      return answer.deviations.map(({ ruleId }) => ruleId);
    };
    expect(await deviations()).not.toContain('in-use-exceeded');
    await change(station, { 'limits.inUseMaxMin': 5 });
    expect(await deviations()).toContain('in-use-exceeded');
    await station.stop();
  });

  test('makes a second copy where one is asked for, without a new start', async () => {
    const folder = newFolder();
    const copies = join(folder, 'elsewhere');
    const station = await startedOn(folder);
    expect(await change(station, { copyFolder: copies })).toMatchObject({ type: 'settings-changed' });
    await station.when(() => existsSync(join(copies, 'practice.sqlite3')));
    const places = await station.ask({ type: 'places', requestId: newRequestId() });
    expect(places).toMatchObject({ copies });
    await station.stop();
  });
});

describe('the file in the data folder', () => {
  test('does not undo at the next start what was changed on the screen since it was taken', async () => {
    const folder = newFolder();
    writeFileSync(fileIn(folder), '{ "latePressS": 60 }');
    const first = await startedOn(folder);
    await change(first, { latePressS: 30 });
    await first.stop();
    const second = await startedOn(folder);
    expect(second.latest().settings.latePressS).toBe(30);
    await second.stop();
    const third = await startedOn(folder);
    expect(third.latest().settings.latePressS).toBe(30);
    await third.stop();
    expect(settingsEntries(third).map(({ payload }) => payload.fileSha256)).toEqual([
      sha256('{ "latePressS": 60 }'),
      sha256('{ "latePressS": 60 }'),
    ]);
  });

  test('is taken again once it says something else, and the entry says what it changed', async () => {
    const folder = newFolder();
    writeFileSync(fileIn(folder), '{ "latePressS": 60 }');
    const first = await startedOn(folder);
    await change(first, { latePressS: 30, spokenCues: true });
    await first.stop();
    writeFileSync(fileIn(folder), '{ "latePressS": 90 }');
    const second = await startedOn(folder);
    expect(second.latest().settings).toEqual({ ...DEFAULT_SETTINGS, latePressS: 90 });
    await second.stop();
    expect(settingsEntries(second).at(-1)).toMatchObject({
      author: { role: 'station' },
      payload: {
        from: 'the settings file',
        fileSha256: sha256('{ "latePressS": 90 }'),
        changes: [
          { name: 'latePressS', before: 30, after: 90 },
          { name: 'spokenCues', before: true, after: false },
        ],
      },
    });
  });

  test('with a fault is not taken, and is taken once it is mended', async () => {
    const folder = newFolder();
    const first = await startedOn(folder);
    await change(first, { latePressS: 30 });
    await first.stop();
    writeFileSync(fileIn(folder), '{ "latePressS": }');
    const second = await startedOn(folder);
    expect(second.latest().settings.latePressS).toBe(30);
    expect(second.latest().trouble[0]).toContain('settings.json, line 1: not JSON');
    await second.stop();
    writeFileSync(fileIn(folder), '{ "latePressS": 15 }');
    const third = await startedOn(folder);
    expect(third.latest().settings.latePressS).toBe(15);
    expect(third.latest().trouble).toEqual([]);
    await third.stop();
  });
});

describe('a file taken in on the screen', () => {
  const file = (text: string) => ({ fileName: 'ours.json', base64: bytes(text) });

  test('shows what it would change before it changes anything, and then changes just that', async () => {
    const folder = newFolder();
    writeFileSync(fileIn(folder), '{ "lineMl": 1.5 }');
    const station = await startedOn(folder);
    const text = '{ "lineMl": 1.5, "profile": "eu" }';
    const changes = [{ name: 'profile', before: 'us', after: 'eu' }];
    expect(await station.ask({ type: 'read-settings', requestId: newRequestId(), ...file(text) })).toMatchObject({
      type: 'settings-read',
      sha256: sha256(text),
      faults: [],
      changes,
    });
    expect(settingsEntries(station)).toHaveLength(1);
    await station.ask(await request(station, { kind: 'file', ...file(text) }));
    const entry = settingsEntries(station).at(-1);
    expect(entry).toMatchObject({
      author: NURSE,
      payload: {
        changes,
        file: { name: 'ours.json', sha256: sha256(text) },
        fileSha256: sha256(readFileSync(fileIn(folder), 'utf8')),
      },
    });
    expect(entry && wordsFor(entry)).toBe(
      'site settings, from ours.json, on the settings screen: product text that is followed: US → EU',
    );
    expect((await station.look()).settings).toEqual({ ...DEFAULT_SETTINGS, lineMl: 1.5, profile: 'eu' });
    await station.stop();
  });

  test('with a fault changes nothing and says on which line, also where somebody confirms it', async () => {
    const station = await startedOn(newFolder());
    const bad = file('{\n  "profile": "eu",\n  "graduationMl": 5\n}');
    const read = await station.ask({ type: 'read-settings', requestId: newRequestId(), ...bad });
    expect(read).toMatchObject({ changes: [], faults: [expect.stringMatching(/^ours\.json, line 3, graduationMl: /)] });
    const confirmed = await station.ask(await request(station, { kind: 'file', ...bad }));
    expect(confirmed).toMatchObject({ type: 'error', says: expect.stringMatching(/line 3, graduationMl: .*not used/) });
    expect((await station.look()).settings).toEqual(DEFAULT_SETTINGS);
    expect(settingsEntries(station)).toHaveLength(1);
    await station.stop();
  });
});
