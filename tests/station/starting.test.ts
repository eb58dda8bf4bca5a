import { execFileSync } from 'node:child_process';
import { chmodSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { entriesIn, kindsIn } from './independent-reading.ts';
import { newFolder, startStation, startWith } from './station-under-test.ts';
import { BEGINNING, open } from './treatment.ts';

describe('a data folder has one station', () => {
  test('a second one refuses with a sentence, and the first goes on', async () => {
    const data = newFolder();
    const first = await startStation(data);
    await expect(startStation(data)).rejects.toMatchObject({
      message: `${data} is in use by another Dimroom: close that one, or choose another data folder`,
      code: 3,
    });
    await open(first);
    expect(kindsIn(first.database)).toStrictEqual([...BEGINNING, 'open-session']);
  });

  test('practice and treatment share a folder and not a moment: practice too is refused beside treatment', async () => {
    const data = newFolder();
    await startStation(data);
    await expect(startStation(data, '--practice')).rejects.toMatchObject({ code: 3 });
  });

  test.each(['stopped', 'killed', 'left by its carrier'] as const)('the next one starts once it is %s', async (how) => {
    const data = newFolder();
    const first = await startStation(data);
    const { sessionId } = await open(first);
    if (how === 'stopped') expect(await first.stop()).toBe(0);
    if (how === 'killed') await first.kill();
    if (how === 'left by its carrier') {
      first.disconnect();
      expect(await first.ended).toBe(0);
    }
    const next = await startStation(data);
    expect(next.takenUp).toBe(1);
    expect(next.view(sessionId).state).toBe('planning');
  });
});

describe('practice', () => {
  test('is kept in a file of its own, and every session in it says so', async () => {
    const data = newFolder();
    const practice = await startStation(data, '--practice');
    const { sessionId } = await open(practice);
    expect((await practice.look()).practice).toBe(true);
    expect(practice.view(sessionId).practice).toBe(true);
    await practice.stop();
    const treatment = await startStation(data);
    expect(practice.database).toBe(join(data, 'practice.sqlite3'));
    expect(treatment.database).toBe(join(data, 'ledger.sqlite3'));
    expect(treatment.latest()).toMatchObject({ practice: false, sessions: [] });
    const opened = await open(treatment);
    expect((await treatment.look()) && treatment.view(opened.sessionId).practice).toBe(false);
    expect(kindsIn(treatment.database)).toStrictEqual([...BEGINNING, 'open-session']);
    expect(entriesIn(practice.database).find((entry) => entry.kind === 'open-session')?.payload).toStrictEqual({
      practice: true,
      settings: DEFAULT_SETTINGS,
    });
  });

  test.each([
    ['a faster clock', ['--speed', '60'], /only in practice: add --practice/],
    ['a stepped clock', ['--stepped'], /only in practice: add --practice/],
    ['a clock that is too fast', ['--practice', '--speed', '100000'], /--speed is .* from 0\.1 to 1000/],
    ['a clock that stands', ['--practice', '--speed', '0'], /--speed is .* from 0\.1 to 1000/],
    ['a speed in words', ['--practice', '--speed', 'fast'], /--speed is .* from 0\.1 to 1000/],
    ['a word it does not know', ['--turbo'], /Unknown option '--turbo'/],
  ])('%s is refused with a sentence, and nothing is written', async (_name, words, sentence) => {
    const data = newFolder();
    await expect(startStation(data, ...words)).rejects.toMatchObject({
      message: expect.stringMatching(sentence),
      code: 3,
    });
    expect(readdirSync(data)).toStrictEqual([]);
  });

  test('without a data folder it says what to name', async () => {
    await expect(startWith([])).rejects.toMatchObject({ message: 'name a data folder with --data', code: 3 });
  });
});

describe('a data folder that cannot be written to', () => {
  const SENTENCE = /cannot be used as a data folder: choose another one/;

  test('is refused with a sentence where a file stands in its way', async () => {
    const file = join(newFolder(), 'a-file');
    writeFileSync(file, 'not a folder');
    await expect(startStation(join(file, 'data'))).rejects.toMatchObject({
      message: expect.stringMatching(SENTENCE),
      code: 3,
    });
  });

  test('is refused with a sentence where nobody may write', async () => {
    const folder = lockedFolder();
    await expect(startStation(folder)).rejects.toMatchObject({ message: expect.stringMatching(SENTENCE), code: 3 });
    expect(readdirSync(folder)).toStrictEqual([]);
  });

  /** Permissions do not bind root, whom the immutable flag of the file system does. */
  function lockedFolder(): string {
    const folder = newFolder();
    if (process.getuid?.() === 0) {
      execFileSync('chattr', ['+i', folder]);
      onTestFinished(() => void execFileSync('chattr', ['-i', folder]));
    } else {
      chmodSync(folder, 0o500);
    }
    return folder;
  }
});

test('a new ledger begins with the identity of its file, and each start is an entry', async () => {
  const data = newFolder();
  await (await startStation(data)).stop();
  const again = await startStation(data);
  expect(entriesIn(again.database)).toMatchObject([
    {
      seq: 1,
      kind: 'station-started',
      sessionId: null,
      payload: { first: true, file: expect.stringMatching(/^[0-9a-f-]{36}$/) },
    },
    { seq: 2, kind: 'settings', sessionId: null, payload: { settings: DEFAULT_SETTINGS, from: 'the start' } },
    { seq: 3, kind: 'station-started', sessionId: null, payload: { first: false } },
  ]);
});
