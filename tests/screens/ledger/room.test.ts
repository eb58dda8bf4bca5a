import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';
import { auditedLedger, PAST } from './audited-ledger.ts';
import { type Auditor, auditorAt } from './auditor.ts';

const SOON = { timeout: 60_000 };
const LONG = { timeout: 240_000 };

describe.skipIf(CHROMIUM === null)('the ledger room', () => {
  const screens = carriedScreens(1, auditedLedger);
  let page: Page;
  let auditor: Auditor;

  beforeAll(async () => {
    page = await screens.open('ledger');
    auditor = auditorAt(page);
    await expectShown(auditor.sessions).toHaveCount(PAST.length, SOON);
  });

  test('combines what is asked, says it in plain words, and one key asks for everything again', LONG, async () => {
    const { press, type, sees, sessions } = auditor;
    await press('f');
    await press('p');
    await type('k-2041');
    await press('Tab');
    await press('Tab');
    await press('Tab');
    await press('Tab');
    await type('late light');
    await press('Enter');
    await sees(/light begun late · patient K-2041…/);
    await expectShown(sessions).toHaveCount(1, SOON);
    await press('f');
    await press('w');
    await type('zz');
    await press('Enter');
    await sees('no session answers to all of that: Backspace asks for everything again');
    await press('Backspace');
    await expectShown(sessions).toHaveCount(PAST.length, SOON);
  });

  test('says what it does not understand beside the field, and looks for nothing', LONG, async () => {
    const { press, type, sees, sessions } = auditor;
    await press('f');
    await press('f');
    await type('2026-02-30');
    await press('Enter');
    await sees('write a day as 2026-03-02, or a month as 2026-03');
    await press('Escape');
    await expectShown(sessions).toHaveCount(PAST.length, SOON);
  });

  test('saves no file that was ended before it was whole', LONG, async () => {
    const { press, sees } = auditor;
    const downloads: string[] = [];
    page.on('download', (download) => downloads.push(download.suggestedFilename()));
    await press('e');
    await press('1');
    await sees(/^making /);
    await press('Escape');
    await sees('ended: no file was saved');
    await press('Escape');
    await page.waitForTimeout(3_000);
    expect(downloads).toEqual([]);
  });

  test('refuses what is no anchor, and holds the ledger against one that is', LONG, async () => {
    const { press, type, sees } = auditor;
    const anchor = (await page.locator('.ledger-head .ledger-hash').textContent()) ?? '';
    await press('v');
    await press('k');
    await type('no anchor');
    await press('Enter');
    await sees(/^that is not an anchor/);
    await press('k');
    await press('ControlOrMeta+a');
    await type(anchor);
    await press('Enter');
    await sees(/it still has the entry that the anchor was taken of/);
    await press('Escape');
  });

  test('prints a figure black on white, without its keys', LONG, async () => {
    const { press } = auditor;
    await auditor.here.waitFor();
    await press('Enter');
    await auditor.here.waitFor();
    await press('2');
    const drawing = page.locator('.figure-drawing svg');
    await drawing.waitFor(SOON);
    const inks = () =>
      drawing.evaluate((svg) => [
        ...new Set([...svg.querySelectorAll('text')].map((text) => getComputedStyle(text).fill)),
      ]);
    expect(await inks()).not.toContain('rgb(0, 0, 0)');
    await page.emulateMedia({ media: 'print' });
    expect(await inks()).toEqual(['rgb(0, 0, 0)']);
    await expectShown(page.locator('.room-keys')).toBeHidden();
    await page.emulateMedia({ media: 'screen' });
    await press('Escape');
    expect(screens.errors).toEqual([]);
  });
});

describe.skipIf(CHROMIUM === null)('the ledger room over a console where drug is running', () => {
  const screens = carriedScreens(1);
  let page: Page;
  let nurse: Nurse;
  let auditor: Auditor;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    auditor = auditorAt(page);
    await nurse.signIn('MO', 'nurse');
    await sessionBefore(page, 'begin-flush');
    await nurse.stateIs('infusing');
    await nurse.press('g');
    await expectShown(auditor.sessions).toHaveCount(1, SOON);
  });

  test('keeps what is typed into it: no letter of it holds the pump or opens a form of the console', LONG, async () => {
    const before = entriesIn(screens.carrier().ledgerFile).filter(({ author }) => author.role !== 'station').length;
    await auditor.press('f');
    await auditor.press('p');
    await auditor.type('hxnvtw');
    await expectShown(page.getByRole('textbox', { name: 'patient code' })).toHaveValue('HXNVTW');
    await auditor.press('Escape');
    await expectShown(auditor.sessions).toHaveCount(1);
    const after = entriesIn(screens.carrier().ledgerFile).filter(({ author }) => author.role !== 'station').length;
    expect(after).toBe(before);
  });

  test('writes no addendum to a session that is not over, and says so', LONG, async () => {
    await auditor.press('Enter');
    await auditor.here.waitFor();
    await expectShown(auditor.view(/deviations:/)).toBeVisible(SOON);
    await auditor.press('a');
    await auditor.sees('an addendum is for a session that is over: this one is infusing');
    await auditor.press('Escape');
  });

  test('leaves the pump within reach: H is the reason of a hold, at once', LONG, async () => {
    await expectShown(auditor.sessions).toHaveCount(1);
    await auditor.press('h');
    await expectShown(nurse.form).toBeVisible();
    await auditor.press('2');
    await expectShown
      .poll(() => entriesIn(screens.carrier().ledgerFile).map(({ kind }) => kind), SOON)
      .toContain('hold');
    expect(screens.errors).toEqual([]);
  });
});
