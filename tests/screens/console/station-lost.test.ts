import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { brokenAt, entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { expectCountedOn, expectCounting, readCount } from '../count-check.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

const SPEED = 5;
const SOON = { timeout: 15_000 };

describe.skipIf(CHROMIUM === null)('a page whose station goes', () => {
  const screens = carriedScreens(SPEED);
  let page: Page;
  let board: Page;
  let nurse: Nurse;
  let sessionId: string;

  beforeAll(async () => {
    page = await screens.open('console');
    board = await screens.open('board');
    nurse = nurseAt(page);
    sessionId = await sessionBefore(page, 'begin-flush');
    await nurse.stateIs('infusing');
    await nurse.signIn('MO', 'nurse');
  });

  const silence = (on: Page) => on.getByText(/no word from the station since/).first();
  const back = async (): Promise<void> => {
    for (const one of [page, board]) await expectShown(silence(one)).toBeHidden({ timeout: 20_000 });
  };
  const entries = () => entriesIn(screens.carrier().ledgerFile).filter((entry) => entry.sessionId === sessionId);

  test('says so, counts on, and counts right when it is back', async () => {
    const before = await Promise.all([page, board].map(readCount));
    const killed = screens.carrier().stationPid();
    const told = [page, board].map((one) => silence(one).waitFor());
    process.kill(killed, 'SIGKILL');
    await Promise.all(told);
    for (const one of [page, board]) await expectCounting(one);
    await back();
    expect(screens.carrier().stationPid()).not.toBe(killed);
    for (const [index, one] of [page, board].entries()) {
      const reading = before[index];
      if (reading !== undefined) await expectCountedOn(one, reading, SPEED);
    }
    await nurse.stateIs('infusing');
  });

  test('enters once what was pressed while it was away', async () => {
    process.kill(screens.carrier().stationPid(), 'SIGSTOP');
    await silence(page).waitFor();
    await nurse.pressUntil('h', nurse.form);
    await nurse.press('2');
    await expectShown(nurse.form).toBeVisible();
    process.kill(screens.carrier().stationPid(), 'SIGKILL');
    await expectShown(page.getByRole('button', { name: 'resume the infusion' })).toBeVisible({ timeout: 20_000 });
    await back();
    expect(entries().filter(({ kind }) => kind === 'hold')).toHaveLength(1);
    expect(brokenAt(entriesIn(screens.carrier().ledgerFile))).toEqual([]);
  });

  test('enters once what a station wrote and died before it could say so', async () => {
    await nurse.press('r');
    await expect.poll(() => entries().map(({ kind }) => kind), SOON).toContain('resume');
    process.kill(screens.carrier().stationPid(), 'SIGKILL');
    await expectShown(page.getByRole('button', { name: 'hold the infusion' })).toBeVisible({ timeout: 20_000 });
    await back();
    expect(entries().filter(({ kind }) => kind === 'resume')).toHaveLength(1);
  });
});
