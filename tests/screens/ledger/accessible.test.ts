import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { auditedLedger } from './audited-ledger.ts';
import { type Auditor, auditorAt } from './auditor.ts';

const LONG = { timeout: 240_000 };

describe.skipIf(CHROMIUM === null)('nothing in the ledger room keeps a person out', () => {
  const screens = carriedScreens(1, auditedLedger);
  let page: Page;
  let auditor: Auditor;

  beforeAll(async () => {
    page = await screens.open('ledger');
    auditor = auditorAt(page);
    await auditor.here.waitFor();
  });

  /** What is wrong, each with where it is. */
  async function found(): Promise<string[]> {
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  }

  /** Goes somewhere by keys, waits for it, looks, and comes back. */
  async function lookedAt(keys: readonly string[], words: string | RegExp, back = 'Escape'): Promise<string[]> {
    for (const key of keys) await auditor.press(key);
    await auditor.sees(words);
    const wrong = await found();
    await auditor.press(back);
    return wrong;
  }

  test('in the list, the filter with what is wrong in it, and the pages beside them', LONG, async () => {
    expect(await found()).toEqual([]);
    expect(await lookedAt(['f', 'd', 'x', 'q', 'Enter'], /no deviation is called so/)).toEqual([]);
    expect(await lookedAt(['e'], 'every session: table, CSV')).toEqual([]);
    expect(await lookedAt(['v'], /entries read, up to entry/)).toEqual([]);
    expect(await lookedAt(['2'], 'light start against its due instant', '1')).toEqual([]);
    expect(await lookedAt(['3'], 'for how long', '1')).toEqual([]);
  });

  test('in each view of a session, and in the forms that an addendum needs', LONG, async () => {
    await auditor.here.waitFor();
    await auditor.press('ArrowDown');
    await auditor.press('Enter');
    await expectShown(auditor.entries).not.toHaveCount(0, { timeout: 60_000 });
    expect(await lookedAt(['Enter'], /^sha-256/, 'Enter')).toEqual([]);
    expect(await lookedAt(['2'], /the same in figures/, '1')).toEqual([]);
    expect(await lookedAt(['3'], /nothing departs from the plan|local practice/, '1')).toEqual([]);
    await auditor.here.waitFor();
    expect(await lookedAt(['a'], 'who is at the keyboard?')).toEqual([]);
    expect(screens.errors).toEqual([]);
  });

  test('one row of a list is reached by Tab, and it is the one that the keys have led to', async () => {
    await auditor.here.waitFor();
    const reachable = page.locator('.rows .row[tabindex="0"]');
    expect(await reachable.count()).toBe(1);
    await auditor.press('ArrowDown');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-current'))).toBe('true');
  });
});
