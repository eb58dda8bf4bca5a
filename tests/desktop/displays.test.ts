import { expect as expectShown } from 'playwright/test';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { wordsFor } from '../../core/ledger/words.ts';
import type { Snapshot } from '../../core/protocol/messages.ts';
import { expectCountedOn, expectCounting, readCount } from '../screens/count-check.ts';
import { nurseAt } from '../screens/nurse.ts';
import { sessionBefore } from '../screens/sent-commands.ts';
import { brokenAt, entriesIn } from '../station/independent-reading.ts';
import { type Desktop, desktop, HAS_DESKTOP, placeOf, SOON, windowAt } from './desktop.ts';
import { anotherLike, type Monitor, pluggedIn, plugIn, unplug, upright } from './monitors.ts';

/** Slow enough that the infusion lasts through all of these. */
const SPEED = 2;
const STARTED = { timeout: 60_000 };
const FREE_SOCKET = 'DUMMY2';

const [desk, wall] = HAS_DESKTOP ? pluggedIn() : [];

describe.skipIf(desk === undefined || wall === undefined)('monitors that come and go in mid-infusion', () => {
  const nurses = desk as Monitor;
  const operators = wall as Monitor;
  let dimroom: Desktop;
  let dues: unknown;

  beforeAll(async () => {
    dimroom = await desktop(SPEED);
    await sessionBefore(dimroom.console, 'begin-flush');
    await expectShown(dimroom.console.getByRole('heading', { level: 1 })).toHaveText('infusing');
    dues = await duesTold(dimroom);
  });
  afterAll(async () => {
    plugIn(nurses);
    plugIn(operators);
    await dimroom?.stop();
  });

  const strip = () => dimroom.console.getByRole('region', { name: 'board' });

  /** Each window on its monitor, the board filling it, the keyboard with the console, and no instant moved. */
  async function expectAt(consoleOn: Monitor, boardOn: Monitor | null): Promise<void> {
    const board = boardOn === null ? null : { bounds: boardOn.bounds, full: true, focused: false };
    await expect.poll(() => placeOf(dimroom, '/board'), SOON).toEqual(board);
    await expect.poll(async () => within(consoleOn, await placeOf(dimroom, '/console')), SOON).toBe(true);
    await expect.poll(async () => (await placeOf(dimroom, '/console'))?.focused, SOON).toBe(true);
    expect(await duesTold(dimroom)).toEqual(dues);
  }

  const boardWindow = () => windowAt(dimroom.app, '/board');

  test('at the start each window has its own', async () => {
    await expectAt(nurses, operators);
    await expectShown(strip()).toBeHidden();
  });

  test("the operator's is pulled out: the board is a strip on the console, and counts on", async () => {
    const before = await readCount(dimroom.console);
    unplug(operators);
    await expectAt(nurses, null);
    await expectShown(strip()).toContainText('second monitor lost: the board is here');
    await expectShown(strip()).toContainText('to the light window');
    await expectShown(strip().getByRole('timer')).toHaveCount(2);
    await expectCountedOn(dimroom.console, before, SPEED);
    await expectCounting(dimroom.console);
    await expect.poll(() => lastWords(dimroom), SOON).toBe('second monitor lost: the board is a strip on the console');
  });

  test('with one monitor there is nothing to change places with, and the key says so', async () => {
    const nurse = nurseAt(dimroom.console);
    await nurse.pressUntil('y', nurse.said.getByText('no second monitor to change places with'));
    await expectAt(nurses, null);
  });

  test('it is plugged in again: the board is back on it, full', async () => {
    plugIn(operators);
    await expectAt(nurses, operators);
    await expectShown(strip()).toBeHidden();
    await expectCounting(await boardWindow());
    await expect
      .poll(() => lastWords(dimroom), SOON)
      .toMatch(/^second monitor found: the board is open on .*1920 × 1080$/);
  });

  test('it is turned upright and back: the board fills it either way', async () => {
    const turned = upright(operators);
    plugIn(turned);
    await expectAt(nurses, turned);
    plugIn(operators);
    await expectAt(nurses, operators);
  });

  test('beside a third one the remembered one has the board; gone, the third has it until the other is back', async () => {
    const third = anotherLike(operators, FREE_SOCKET);
    plugIn(third);
    await expect.poll(() => displaysSeen(dimroom), SOON).toBe(3);
    await expectAt(nurses, operators);
    unplug(operators);
    await expectAt(nurses, third);
    await expectShown(strip()).toBeHidden();
    await expect.poll(() => lastWords(dimroom), SOON).toMatch(/^second monitor lost: the board moved/);
    plugIn(operators);
    await expectAt(nurses, operators);
    await expect.poll(() => lastWords(dimroom), SOON).toMatch(/^second monitor found: the board moved/);
    unplug(third);
    await expectAt(nurses, operators);
  });

  test('one key has console and board change places', async () => {
    const nurse = nurseAt(dimroom.console);
    await nurse.pressUntil('y', nurse.said.getByText('console and board have changed places'));
    await expectAt(operators, nurses);
    await expectCounting(await boardWindow());
    await expect
      .poll(() => lastWords(dimroom), SOON)
      .toMatch(/^console and board changed places: console on .*; board on /);
  });

  test('only the console may ask for that', async () => {
    const board = await boardWindow();
    expect(await board.evaluate(() => window.dimroom?.swapDisplays?.())).toBe('only the console may ask for that');
    await expectAt(operators, nurses);
  });

  test("changed over, the console's is pulled out: it comes to the one that is left, and goes back", async () => {
    unplug(operators);
    await expectAt(nurses, null);
    await expectShown(strip()).toContainText('second monitor lost');
    plugIn(operators);
    await expectAt(operators, nurses);
  });

  test('started again they are still changed over, and the session goes on by the same instants', async () => {
    await dimroom.close();
    dimroom = await desktop(SPEED, dimroom.folder);
    await expectShown(dimroom.console.getByRole('heading', { level: 1 })).toHaveText('infusing', STARTED);
    // Started anew, practice time is a clock of its own: the instants are re-based, and compared from here on.
    dues = await duesTold(dimroom);
    await expectAt(operators, nurses);
  });

  test('the same key changes them back', async () => {
    const nurse = nurseAt(dimroom.console);
    await nurse.pressUntil('y', nurse.said.getByText('console and board have changed places'));
    await expectAt(nurses, operators);
  });

  test('no pointer is seen on the board', async () => {
    const board = await boardWindow();
    const cursors = await board.evaluate(() => {
      const all = [...document.querySelectorAll('#screen *')];
      return [...new Set(all.map((one) => getComputedStyle(one).cursor))];
    });
    expect(cursors).toEqual(['none']);
  });

  test('all of it is in the ledger, whole', () => {
    const kinds = entriesIn(dimroom.ledgerFile).map(({ kind }) => kind);
    const told = kinds.filter((kind) => kind.startsWith('display-')).map((kind) => kind.slice('display-'.length));
    expect(told).toEqual(['lost', 'found', 'lost', 'found', 'swapped', 'lost', 'found', 'swapped']);
    expect(brokenAt(entriesIn(dimroom.ledgerFile))).toEqual([]);
  });
});

/** The instants that the timers of the session in front count to, as the station tells its screens now. */
function duesTold({ console: page }: Desktop): Promise<unknown> {
  return page.evaluate(
    () =>
      new Promise((resolve) => {
        const stop = window.dimroom?.onMessage((heard) => {
          const message = heard as Snapshot;
          const course = message.type === 'snapshot' ? message.sessions[0]?.course : undefined;
          if (course == null) return;
          const { t0AtMs, infusionDueAtMs, lightDueAtMs } = course;
          stop?.();
          resolve({ t0AtMs, infusionDueAtMs, lightDueAtMs });
        });
      }),
  );
}

const displaysSeen = ({ app }: Desktop): Promise<number> =>
  app.evaluate(({ screen }) => screen.getAllDisplays().length);

/** What the ledger's last word on displays is. */
function lastWords({ ledgerFile }: Desktop): string {
  const last = entriesIn(ledgerFile).findLast(({ kind }) => kind.startsWith('display-'));
  return last === undefined ? '' : wordsFor(last);
}

function within({ bounds: on }: Monitor, place: Awaited<ReturnType<typeof placeOf>>): boolean {
  if (place === null) return false;
  const { x, y, width, height } = place.bounds;
  return x >= on.x && y >= on.y && x + width <= on.x + on.width && y + height <= on.y + on.height;
}
