import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { REGIMENS, regimenById } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { readEntries } from '../../electron/station/read-file.ts';
import { sha256 } from '../../electron/station/sha256.ts';
import { newFolder, startStation } from '../station/station-under-test.ts';
import { NURSE, OTHER_NURSE, open, refused, requestOf, treat, upTo } from '../station/treatment.ts';

/** A real station with files of its site, started again and again on the same data. */
const STEPPED = ['--practice', '--stepped'];
const EU_FILE = '{ "profile": "eu", "graduationMl": 0.2 }';
const US_FILE = '{ "formula": "du-bois" }';
const settingsIn = (folder: string, text: string): void => writeFileSync(join(folder, 'settings.json'), text);

async function startedOn(folder: string) {
  return startStation(folder, ...STEPPED);
}

const stationEntries = (database: string) =>
  readEntries(database).filter((entry) => entry.kind === 'settings' || entry.kind === 'settings-refused');

describe('settings', () => {
  test('of a session are those it was opened with; the next has the new ones, and the change is an entry', async () => {
    const folder = newFolder();
    settingsIn(folder, EU_FILE);
    const eu = { ...DEFAULT_SETTINGS, profile: 'eu', graduationMl: 0.2 };
    const us = { ...DEFAULT_SETTINGS, formula: 'du-bois' };

    const first = await startedOn(folder);
    const { sessionId: before } = await open(first);
    expect(first.latest().settings).toEqual(eu);
    await first.stop();

    settingsIn(folder, US_FILE);
    const second = await startedOn(folder);
    const { sessionId: after } = await open(second);
    expect(second.latest().settings).toEqual(us);
    expect(second.view(before).settings).toEqual(eu);
    expect(second.view(after).settings).toEqual(us);

    await treat(second, before, upTo('second-check'));
    const plan = second.view(before).plan;
    expect(plan?.formula).toBe('mosteller');
    expect(plan?.infusate.drugMlRounded).toBe(5.4);
    await second.stop();

    expect(stationEntries(second.database).map(({ kind, payload }) => [kind, payload])).toEqual([
      ['settings', { settings: eu, from: 'the start', fileSha256: sha256(EU_FILE) }],
      [
        'settings',
        {
          settings: us,
          from: 'the settings file',
          changes: [
            { name: 'profile', before: 'eu', after: 'us' },
            { name: 'formula', before: 'mosteller', after: 'du-bois' },
            { name: 'graduationMl', before: 0.2, after: 0.1 },
          ],
          fileSha256: sha256(US_FILE),
        },
      ],
    ]);
  });

  test('that did not change are not entered again, nor those of a file that is gone', async () => {
    const folder = newFolder();
    settingsIn(folder, '{ "latePressS": 60 }');
    const first = await startedOn(folder);
    await first.stop();
    const second = await startedOn(folder);
    await second.stop();
    rmSync(join(folder, 'settings.json'));
    const third = await startedOn(folder);
    expect(third.latest().settings).toEqual({ ...DEFAULT_SETTINGS, latePressS: 60 });
    expect(third.latest().trouble).toEqual([]);
    await third.stop();
    expect(stationEntries(third.database)).toHaveLength(1);
  });

  test('in a file with a fault change nothing: the station works on, shows the line, and enters it', async () => {
    const folder = newFolder();
    settingsIn(folder, '{ "latePressS": 60 }');
    const first = await startedOn(folder);
    await first.stop();
    settingsIn(folder, '{\n  "latePressS": 60,\n  "profile": "uk"\n}');
    const second = await startedOn(folder);
    const { settings, trouble } = second.latest();
    expect(settings).toEqual({ ...DEFAULT_SETTINGS, latePressS: 60 });
    expect(trouble).toEqual([expect.stringContaining(`${join(folder, 'settings.json')}, line 3, profile: `)]);
    const { sessionId } = await open(second);
    expect(second.view(sessionId).settings.latePressS).toBe(60);
    await second.stop();
    const refusal = stationEntries(second.database).at(-1);
    expect(refusal).toMatchObject({ kind: 'settings-refused', payload: { words: trouble[0] } });
  });
});

describe("a site's own regimen", () => {
  const own = {
    ...regimenById('half-dose-15'),
    id: 'own-third',
    name: 'One third, ours',
    doseMgPerM2: 2,
    sources: [{ text: 'our own protocol', sure: 'local' }],
  };
  const lesions = [{ eye: 'right', gldUm: 2600 }] as const;
  const order: Command = {
    kind: 'order',
    regimenId: 'own-third',
    lesions: [...lesions],
    orderedBy: 'the ordering physician',
    offLabelReason: 'our own protocol for thin patients',
  };
  const second: Command = {
    kind: 'second-check',
    heightCm: 168,
    weightKg: 71.5,
    regimenId: 'own-third',
    lesions: [...lesions],
  };
  const steps = upTo('second-check').map((step) => {
    const { kind } = step.command;
    return kind === 'order'
      ? { ...step, command: order }
      : kind === 'second-check'
        ? { ...step, command: second }
        : step;
  });

  test('is offered, ordered, and stays in its session when the file is gone', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'regimens.json'), JSON.stringify([own]));
    const first = await startedOn(folder);
    expect(first.latest().regimens).toEqual([...REGIMENS, own]);
    const { sessionId } = await open(first);
    await treat(first, sessionId, steps);
    const before = first.view(sessionId);
    expect(before.regimen?.name).toBe('One third, ours');
    expect(before.plan?.infusate.drugMlRounded).toBe(1.8);
    await first.stop();

    rmSync(join(folder, 'regimens.json'));
    const later = await startedOn(folder);
    expect(later.latest().regimens).toEqual(REGIMENS);
    expect(later.view(sessionId).regimen).toEqual(before.regimen);
    expect(later.view(sessionId).plan).toEqual(before.plan);
    const { sessionId: another } = await open(later);
    const says = refused(await later.ask(requestOf(later, another, { by: NURSE, command: order }))).missing;
    expect(says[0]?.text).toMatch(/^No regimen is called "own-third"; choose one of: label/);
    const prepare: Command = { kind: 'prepare', reconstitutedAgoS: 60 };
    await treat(later, sessionId, [{ atS: 0, by: OTHER_NURSE, command: prepare }]);
    expect(later.view(sessionId).state).toBe('prepared');
    await later.stop();
  });

  test('with a fault is not offered, and the snapshot says on which line', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'regimens.json'), JSON.stringify([{ ...own, onLabel: true }], null, 2));
    const station = await startedOn(folder);
    expect(station.latest().regimens).toEqual(REGIMENS);
    expect(station.latest().trouble).toEqual([
      expect.stringMatching(/regimens\.json, line 6, 0\.onLabel: a regimen of the site is off label/),
    ]);
    await station.stop();
  });
});
