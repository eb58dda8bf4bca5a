import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { boardShows } from '../board-watch.ts';
import { type BrowserCarrier, browserCarrier, CHROMIUM, openChromium, openScreen } from '../browser-carrier.ts';
import { nurseAt } from '../nurse.ts';
import { wholeSession } from '../whole-session.ts';
import { expectWholeRecord } from '../written-record.ts';

describe.skipIf(CHROMIUM === null)('a whole session in a browser', () => {
  let carrier: BrowserCarrier;
  let browser: Browser;
  let console_: Page;
  let board: Page;
  const errors: string[] = [];

  beforeAll(async () => {
    [carrier, browser] = await Promise.all([browserCarrier(), openChromium()]);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    board = await openScreen(context, carrier.board, errors);
    console_ = await openScreen(context, carrier.console, errors);
  });
  afterAll(async () => {
    await browser?.close();
    await carrier?.stop();
  });

  test('goes by the keyboard alone, and the board shows it at every stage', async () => {
    await wholeSession(nurseAt(console_), (stage) => boardShows(board, stage));
  });

  test('is in the file, whole and in order, for anybody who reads it by other means', () => {
    expectWholeRecord(carrier.ledgerFile);
  });

  test('left no error in either page', () => {
    expect(errors).toEqual([]);
  });
});
