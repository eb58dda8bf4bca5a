import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { boardShows } from '../screens/board-watch.ts';
import { beginRoster, PIN } from '../screens/people/clinic-people.ts';
import { signedInNurseAt } from '../screens/signed-in-nurse.ts';
import { wholeSession } from '../screens/whole-session.ts';
import { expectInOrder } from '../screens/written-record.ts';
import { entriesIn } from '../station/independent-reading.ts';
import { type Desktop, desktopInEarnest, HAS_DESKTOP } from './desktop.ts';

/** It takes as long as a treatment takes: run where DIMROOM_IN_EARNEST is set. */
const ASKED_FOR = Boolean(process.env.DIMROOM_IN_EARNEST);
if (HAS_DESKTOP && !ASKED_FOR) console.log('not run: a treatment in real time takes 17 min; set DIMROOM_IN_EARNEST');

const HALF_AN_HOUR_MS = 30 * 60_000;

describe.skipIf(!HAS_DESKTOP || !ASKED_FOR)('a treatment in earnest, in real time', () => {
  let desk: Desktop;

  beforeAll(async () => {
    desk = await desktopInEarnest();
  });
  afterAll(() => desk?.stop());

  test('goes by the keyboard alone, by people who sign in', { timeout: HALF_AN_HOUR_MS }, async () => {
    const nurse = signedInNurseAt(desk.console, PIN, HALF_AN_HOUR_MS);
    await beginRoster(nurse);
    await wholeSession(nurse, async (stage) => {
      if (desk.board !== null) await boardShows(desk.board, stage, { practice: false });
    });
    const session = expectInOrder(desk.ledgerFile);
    const at = (kind: string): number => session.find((entry) => entry.kind === kind)?.continuousMs ?? Number.NaN;
    const dueAtMs = (kind: string) => session.find((entry) => entry.kind === kind)?.payload.dueAtMs;
    expect(dueAtMs('light-due')).toBeCloseTo(at('start-pump') + 15 * 60_000, 0);
    expect(at('beam-on')).toBeGreaterThanOrEqual(at('start-pump') + 15 * 60_000);
    expect(dueAtMs('exposure-due')).toBeCloseTo(at('beam-on') + 83_000, 0);
    const signedIn = entriesIn(desk.ledgerFile).filter(({ kind }) => kind === 'signed-in');
    expect(signedIn.map(({ author, payload }) => `${author.initials} ${payload.as}`)).toEqual([
      ...['MO hands', 'TK second', 'RV hands', 'MO hands'],
    ]);
  });
});
