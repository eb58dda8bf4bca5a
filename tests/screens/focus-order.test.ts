import type { Page } from 'playwright';
import { beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, carriedScreens } from './browser-carrier.ts';
import { type Nurse, nurseAt } from './nurse.ts';
import { sessionBefore } from './sent-commands.ts';
import { faultsOf, tabThrough } from './tab-walk.ts';

const LONG = { timeout: 240_000 };
const SOON = { timeout: 15_000 };

const WINDOWS = [
  { width: 1280, height: 800 },
  // Enlarged to twice its size, or narrow.
  { width: 640, height: 700 },
];

describe.skipIf(CHROMIUM === null).each(WINDOWS)('Tab goes as one reads, at $width by $height', (window) => {
  const screens = carriedScreens(1);
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console', window);
    nurse = nurseAt(page);
    await nurse.wayOnLine.waitFor(SOON);
  });

  /** Goes somewhere by keys, and through it by Tab: what is wrong, by the place. */
  async function walked(keys: readonly string[], place: string, least = 2): Promise<string[]> {
    for (const key of keys) await nurse.press(key);
    await page.locator(place).first().waitFor(SOON);
    const walk = await tabThrough(page);
    expect(walk.stops.length, place).toBeGreaterThanOrEqual(least);
    return faultsOf(walk).map((fault) => `${place}: ${fault}`);
  }

  test('before a session and while planning', LONG, async () => {
    expect(await walked([], '.dock', 8)).toEqual([]);
    await nurse.signIn('MO', 'nurse');
    await sessionBefore(page, 'order');
    await nurse.stateIs('planning');
    expect(await walked([], '.tasks', 12)).toEqual([]);
  });

  test.each([
    ['of the order', '3'],
    ['of height and weight', '5'],
    ['of a note', 'n'],
  ])('in the form %s', LONG, async (_form, key) => {
    await nurse.look();
    await nurse.pressUntil(key, nurse.form);
    expect(await walked([], '.form', 3)).toEqual([]);
    await nurse.press('Escape');
  });

  test('while infusing, in the cards of trouble and in the list of keys, which keeps it', LONG, async () => {
    await sessionBefore(page, 'begin-flush');
    await nurse.stateIs('infusing');
    expect(await walked([], '.other-keys', 10)).toEqual([]);
    expect(await walked(['t'], '.trouble', 5)).toEqual([]);
    await nurse.press('Escape');
    expect(await walked(['?'], 'dialog', 1)).toEqual([]);
    await nurse.press('Escape');
  });

  test('in the ledger room, and in what lies over it', LONG, async () => {
    expect(await walked(['g'], '.session-row', 8)).toEqual([]);
    expect(await walked(['f'], '.find-panel', 10)).toEqual([]);
    await nurse.press('Escape');
    expect(await walked(['e'], '.export-panel', 5)).toEqual([]);
    await nurse.press('Escape');
    expect(await walked(['v'], '.verdict', 3)).toEqual([]);
    await nurse.press('Escape');
    expect(await walked(['2'], '.clinic', 5)).toEqual([]);
    expect(await walked(['3'], '.privacy', 5)).toEqual([]);
    await nurse.press('1');
    await nurse.press('Escape');
  });

  test('in the reading of a session, in its three views', LONG, async () => {
    await nurse.press('g');
    await page.locator('.session-row').first().waitFor(SOON);
    expect(await walked(['Enter'], '.entry-row', 6)).toEqual([]);
    expect(await walked(['2'], '.figure-drawing svg', 6)).toEqual([]);
    expect(await walked(['3'], '.room-tab[aria-current]', 6)).toEqual([]);
    await nurse.press('Escape');
    await nurse.press('Escape');
  });

  test('in the settings room and in the people room', LONG, async () => {
    expect(await walked(['j'], '.setting-row', 8)).toEqual([]);
    expect(await walked(['Enter'], '.settings form', 4)).toEqual([]);
    await nurse.press('Escape');
    expect(await walked(['i'], '.settings-file', 3)).toEqual([]);
    await nurse.press('Escape');
    await nurse.press('Escape');
    expect(await walked(['u'], '.people', 2)).toEqual([]);
    await nurse.press('Escape');
    expect(screens.errors).toEqual([]);
  });

  test('in a ledger of its own', LONG, async () => {
    const ledger = await screens.open('ledger', window);
    await ledger.locator('.session-row').first().waitFor(SOON);
    const walk = await tabThrough(ledger);
    expect(walk.stops.length).toBeGreaterThan(8);
    expect(faultsOf(walk)).toEqual([]);
  });
});
