import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Desktop } from '../desktop/desktop.ts';
import { boardShows } from '../screens/board-watch.ts';
import { nurseAt } from '../screens/nurse.ts';
import { wholeSession } from '../screens/whole-session.ts';
import { expectWholeRecord } from '../screens/written-record.ts';
import { entriesIn } from '../station/independent-reading.ts';
import { HAS_PACKAGING, MAKING_MS, startPackaged } from './packaged-app.ts';

const WALK_MS = 240_000;

describe.skipIf(!HAS_PACKAGING)('a whole session in the packaged app', () => {
  let desk: Desktop;

  beforeAll(async () => {
    desk = await startPackaged({ words: ['--practice', '--speed', '60'] });
  }, MAKING_MS);
  afterAll(() => desk?.stop());

  test('goes by the keyboard alone, and the board on the second monitor shows it', { timeout: WALK_MS }, async () => {
    expect(await desk.app.evaluate(({ app }) => app.isPackaged)).toBe(true);
    await wholeSession(nurseAt(desk.console), async (stage) => {
      if (desk.board !== null) await boardShows(desk.board, stage);
    });
  });

  test('is in the file, whole and in order', () => {
    expectWholeRecord(desk.ledgerFile);
  });

  test('leaves a log of the program, with nothing of the patient in it', () => {
    const folder = join(desk.folder, 'windows/logs');
    expect(readdirSync(folder)).toEqual(['dimroom.log']);
    const log = readFileSync(join(folder, 'dimroom.log'), 'utf8');
    expect(log).toMatch(/info Dimroom \d+\.\d+\.\d+ starts on Electron/);
    expect(log).toContain('the console is shown');
    for (const told of toldOfPatient(desk.ledgerFile)) expect(log).not.toContain(told);
  });
});

/** What the record has about the patient, in the letters it has it in. */
function toldOfPatient(file: string): string[] {
  const entries = entriesIn(file);
  const identity = entries.find(({ kind }) => kind === 'identify')?.payload;
  const sessionId = entries.find((entry) => entry.sessionId !== null)?.sessionId;
  const told = ['K-2041', '1951', '71.5', String(sessionId)];
  for (const one of told.slice(0, 2)) expect(JSON.stringify(identity)).toContain(one);
  return told;
}
