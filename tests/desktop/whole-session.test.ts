import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { boardShows } from '../screens/board-watch.ts';
import { nurseAt } from '../screens/nurse.ts';
import { wholeSession } from '../screens/whole-session.ts';
import { expectWholeRecord } from '../screens/written-record.ts';
import { type Desktop, desktop, HAS_DESKTOP, SOON } from './desktop.ts';

const WALK_MS = 240_000;

describe.skipIf(!HAS_DESKTOP)('a whole session on the desktop', () => {
  let desk: Desktop;

  beforeAll(async () => {
    desk = await desktop();
  });
  afterAll(() => desk?.stop());

  test('goes by the keyboard alone, and the board on the second monitor shows it', { timeout: WALK_MS }, async () => {
    expect(await displaysKeptLit(desk)).toBe(false);
    await wholeSession(nurseAt(desk.console), async (stage) => {
      // The displays are kept lit from the opening until the discharge.
      await expect.poll(() => displaysKeptLit(desk), SOON).toBe(stage !== 'discharged');
      if (desk.board !== null) await boardShows(desk.board, stage);
    });
  });

  test('is in the file, whole and in order', () => {
    expectWholeRecord(desk.ledgerFile);
  });
});

/** Whether the shell holds a blocker of sleep; they are numbered from 0. */
const displaysKeptLit = ({ app }: Desktop): Promise<boolean> =>
  app.evaluate(({ powerSaveBlocker }) =>
    Array.from({ length: 20 }, (_, id) => id).some((id) => powerSaveBlocker.isStarted(id)),
  );
