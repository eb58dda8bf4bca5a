import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { medianSorted } from 'simple-statistics';
import { beforeAll, describe, expect, test } from 'vitest';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { auditedLedger, PAST } from './audited-ledger.ts';
import { type Auditor, auditorAt } from './auditor.ts';

const SOON = { timeout: 60_000 };
const LIGHT_START_MS = 900_000;

describe.skipIf(CHROMIUM === null)('the clinic at a glance', () => {
  const screens = carriedScreens(1, auditedLedger);
  let page: Page;
  let auditor: Auditor;

  beforeAll(async () => {
    page = await screens.open('ledger');
    auditor = auditorAt(page);
    await expectShown(auditor.sessions).toHaveCount(PAST.length, SOON);
    await auditor.press('2');
    await auditor.sees('light start against its due instant');
  });

  /** Beam on less its due instant, seconds, read from the file itself. */
  function offsetsInFileS(): number[] {
    const entries = entriesIn(screens.carrier().ledgerFile);
    const offsets = new Map<string | null, number>();
    for (const { kind, sessionId, continuousMs } of entries) {
      if (kind === 'start-pump') offsets.set(sessionId, continuousMs + LIGHT_START_MS);
      if (kind === 'beam-on') offsets.set(sessionId, (continuousMs - (offsets.get(sessionId) ?? Number.NaN)) / 1000);
    }
    return [...offsets.values()];
  }

  test('its light starts and their median are those of the file', async () => {
    const offsets = offsetsInFileS().sort((one, other) => one - other);
    const row = (name: string) => page.getByRole('row', { name: new RegExp(`^${name}`) }).getByRole('cell');
    await expectShown(row('light starts')).toHaveText(String(offsets.length));
    const shown = Number(await row('median, s').first().textContent());
    expect(Math.abs(shown - medianSorted(offsets))).toBeLessThan(0.06);
    await expectShown(row('outside the limit')).toHaveText(String(offsets.filter((s) => Math.abs(s) > 30).length));
  });

  test('every chart has a name and a table, keeps inside the page, and needs no colour', async () => {
    const charts = page.locator('.clinic-chart svg');
    expect(await charts.count()).toBeGreaterThanOrEqual(3);
    for (const chart of await charts.all()) {
      expect(await chart.getAttribute('aria-label')).toMatch(/\w/);
      expect(await chart.locator('style').count()).toBe(0);
      const inks = await chart.evaluate((svg) => [
        ...new Set(
          [...svg.querySelectorAll('circle, path, rect, line')].flatMap((mark) => {
            const { fill, stroke } = getComputedStyle(mark);
            return [fill, stroke].filter((ink) => ink !== 'none');
          }),
        ),
      ]);
      expect(inks.length).toBeLessThanOrEqual(2);
      const box = await chart.boundingBox();
      expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual(page.viewportSize()?.width ?? 0);
    }
    expect(await page.locator('.clinic-table').count()).toBeGreaterThanOrEqual(4);
    expect(screens.errors).toEqual([]);
  });
});
