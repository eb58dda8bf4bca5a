import { describe, expect, test } from 'vitest';
import { boardShows } from '../board-watch.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { nurseAt } from '../nurse.ts';
import { wholeSession } from '../whole-session.ts';
import { expectWholeRecord } from '../written-record.ts';

const WALK_MS = 240_000;

describe.skipIf(CHROMIUM === null)('a whole session in a browser', () => {
  const screens = carriedScreens();

  test('goes by the keyboard alone, and the board shows it at every stage', { timeout: WALK_MS }, async () => {
    const board = await screens.open('board', { width: 1920, height: 1080 });
    const nurse = nurseAt(await screens.open('console'));
    await wholeSession(nurse, (stage) => boardShows(board, stage));
  });

  test('is in the file, whole and in order, for anybody who reads it by other means', () => {
    expectWholeRecord(screens.carrier().ledgerFile);
  });

  test('left no error in either page', () => {
    expect(screens.errors).toEqual([]);
  });
});
