import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { brokenAt, entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens, IN_EARNEST } from '../browser-carrier.ts';
import { nurseAt } from '../nurse.ts';
import { beginRoster, PIN } from '../people/clinic-people.ts';
import { clinicLedger, PAST } from './audited-ledger.ts';
import { type Auditor, auditorAt } from './auditor.ts';

const LONG = { timeout: 120_000 };
const SOON = { timeout: 60_000 };

describe.skipIf(CHROMIUM === null)('an audit where people sign in', () => {
  const screens = carriedScreens(IN_EARNEST, clinicLedger);
  let page: Page;
  let auditor: Auditor;

  beforeAll(async () => {
    await beginRoster(nurseAt(await screens.open('console')));
    page = await screens.open('ledger');
    auditor = auditorAt(page);
  }, LONG.timeout);

  const entries = () => entriesIn(screens.carrier().ledgerFile);

  test('shows no session before an auditor has signed in, and all of them then', LONG, async () => {
    await auditor.sees('who is at the keyboard?');
    expect(await page.textContent('body')).not.toMatch(/K-\d{4}/);
    await nurseAt(page).type({ initials: 'au', PIN: PIN.AU });
    await auditor.press('Enter');
    await expectShown(auditor.sessions).toHaveCount(PAST.length, SOON);
    expect(await page.textContent('body')).not.toContain('PRACTICE');
  });

  test('an addendum is written without signing in again, and is the auditor’s', LONG, async () => {
    await auditor.press('Enter');
    await expectShown(auditor.entries).not.toHaveCount(0, SOON);
    await auditor.press('a');
    await auditor.sees(/^addendum to entry/);
    await page.waitForTimeout(600);
    await page.keyboard.type('looked at in the audit of the month');
    await auditor.press('Tab');
    await page.keyboard.type('the monthly audit');
    await auditor.press('Enter');
    await expectShown(auditor.entries.last()).toContainText('looked at in the audit of the month', SOON);
    expect(entries().at(-1)).toMatchObject({ kind: 'addendum', author: { initials: 'AU', role: 'auditor' } });
  });

  test('what is exported is not called practice', LONG, async () => {
    await auditor.press('e');
    const chain = await auditor.exported(3);
    expect(chain.name).toMatch(/^K-\d{4}-.*-chain\.json$/);
    expect(readFileSync(chain.path, 'utf8')).not.toContain('PRACTICE');
    await auditor.press('Escape');
  });

  test('other hands begin the room anew: who may not read is told whose it is, and sees nothing', LONG, async () => {
    await auditor.press('w');
    await auditor.sees('who is at the keyboard?');
    await page.waitForTimeout(600);
    await nurseAt(page).type({ initials: 'rv', PIN: PIN.RV });
    await auditor.press('Enter');
    await auditor.sees(/that is for nurse, physician or auditor/);
    expect(await page.textContent('main')).not.toMatch(/K-\d{4}/);
    expect(brokenAt(entries())).toEqual([]);
    expect(screens.errors).toEqual([]);
  });
});
