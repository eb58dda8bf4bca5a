import type { Page } from 'playwright';
import { beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

/** A window of 1280 by 800 enlarged to twice its size has this much room: WCAG 2.2, 1.4.4 and 1.4.10. */
const ENLARGED = { width: 640, height: 400 };

describe.skipIf(CHROMIUM === null)('the console enlarged to twice its size', () => {
  const screens = carriedScreens(1);
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console', ENLARGED);
    nurse = nurseAt(page);
    await nurse.signIn('MO', 'nurse');
  });

  /** What is cut off, or covers something else: words that no scrolling brings whole into sight. */
  const faults = (): Promise<string[]> =>
    page.evaluate(() => {
      const room = document.documentElement.clientWidth;
      const seen = [...document.querySelectorAll('.console *')].filter(
        (one) =>
          one.closest('.unseen, svg, [aria-hidden="true"]') === null &&
          [...one.childNodes].some(({ nodeType, textContent }) => nodeType === Node.TEXT_NODE && textContent?.trim()),
      );
      const wide = seen.filter((one) => one.getBoundingClientRect().right > room + 1);
      const cut = seen.filter((one) => {
        const { overflowX } = getComputedStyle(one);
        return overflowX === 'hidden' && one.scrollWidth > one.clientWidth + 1;
      });
      const named = (kind: string) => (one: Element) => `${kind}: ${one.textContent?.trim().slice(0, 60)}`;
      return [...wide.map(named('beyond the edge')), ...cut.map(named('cut off'))];
    });

  async function reaches(name: string | RegExp): Promise<void> {
    const button = page.getByRole('button', { name });
    await button.scrollIntoViewIfNeeded();
    const box = await button.boundingBox();
    expect(box?.y).toBeGreaterThanOrEqual(0);
    expect((box?.y ?? 0) + (box?.height ?? 0)).toBeLessThanOrEqual(ENLARGED.height);
  }

  test('before a session', async () => {
    expect(await faults()).toEqual([]);
    await reaches('open a session');
  });

  test('while planning, and in its longest form', async () => {
    await sessionBefore(page, 'order');
    await nurse.stateIs('planning');
    expect(await faults()).toEqual([]);
    await nurse.pressUntil('3', nurse.form);
    expect(await faults()).toEqual([]);
    await reaches(/leave, without effect/);
    await nurse.press('Escape');
  });

  test('while infusing, the count stands in front and everything can be reached', async () => {
    await sessionBefore(page, 'begin-flush');
    await nurse.stateIs('infusing');
    expect(await faults()).toEqual([]);
    await page.evaluate(() => window.scrollTo(0, 0));
    const count = await page.locator('.count-number').first().boundingBox();
    expect((count?.y ?? 0) + (count?.height ?? 0)).toBeLessThanOrEqual(ENLARGED.height);
    await reaches('hold the infusion');
    await reaches(/pump off, begin the flush/);
  });

  test.each([
    ['people', 'u'],
    ['settings', 'j'],
  ])('in the room of %s', async (_room, key) => {
    await nurse.press(key);
    await page.getByRole('region', { name: _room }).waitFor();
    expect(await faults()).toEqual([]);
    await nurse.press('Escape');
  });
});
