import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { say } from '../../renderer/words/say.ts';
import { entriesIn } from '../station/independent-reading.ts';
import { CHROMIUM, carriedScreens, IN_EARNEST } from './browser-carrier.ts';
import { type Nurse, nurseAt } from './nurse.ts';
import { sessionBefore } from './sent-commands.ts';
import { folderSpeaking } from './words/speaking-folder.ts';

const LONG = { timeout: 240_000 };
const SOON = { timeout: 15_000 };

const listAt = (page: Page, name = 'keys') => page.getByRole('dialog', { name });

/** The keys that the list tells of, each as it is printed. */
const told = (page: Page): Promise<string[]> => listAt(page).locator('dt').allTextContents();

/** The keys that stand in a place of the screen, but for those of choices, which are told of together. */
const drawn = (page: Page, within: string): Promise<string[]> =>
  page
    .locator(`${within} .key-cap:not(.choice-option .key-cap)`)
    .evaluateAll((caps) => [...new Set(caps.filter((cap) => cap.checkVisibility()).map((cap) => cap.textContent))]);

/** What has the focus, to be compared with what has it later. */
const focusedIn = (page: Page) => page.evaluateHandle(() => document.activeElement);

async function wrongIn(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
}

/** Asks for the list, has a look at it, and puts it away by `?` or Esc: what is below stays as it was. */
async function lookedAt(page: Page, within: string): Promise<string[]> {
  const before = await focusedIn(page);
  const shown = await drawn(page, within);
  await page.keyboard.press('?');
  await expectShown(listAt(page)).toBeVisible();
  expect(await wrongIn(page)).toEqual([]);
  const keys = await told(page);
  expect(new Set(keys).size).toBe(keys.length);
  expect(shown.filter((cap) => !keys.includes(cap) && !NOT_TOLD.includes(cap))).toEqual([]);
  const fits = await listAt(page).evaluate((list) => list.scrollHeight <= list.clientHeight + 1);
  expect(fits).toBe(true);
  await page.keyboard.press('?');
  await expectShown(listAt(page)).toBeHidden();
  await page.keyboard.press('?');
  await expectShown(listAt(page)).toBeVisible();
  await page.keyboard.press('Escape');
  await expectShown(listAt(page)).toBeHidden();
  expect(await before.evaluate((element) => element === document.activeElement)).toBe(true);
  expect(await drawn(page, within)).toEqual(shown);
  return keys;
}

/** To paste is the platform's, and it was `?` that was pressed. */
const NOT_TOLD = ['Ctrl V', '?'];

describe.skipIf(CHROMIUM === null)('? tells what can be pressed, wherever one is', () => {
  const screens = carriedScreens(1);
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    await nurse.signIn('MO', 'nurse');
    await sessionBefore(page, 'begin-flush');
    await nurse.stateIs('infusing');
  });

  const kinds = (): string[] => entriesIn(screens.carrier().ledgerFile).map(({ kind }) => kind);

  /** Goes into something by keys, and gives what the list tells of there. */
  async function within(keys: readonly string[], place: string): Promise<string[]> {
    for (const key of keys) await nurse.press(key);
    await page.locator(place).first().waitFor(SOON);
    return lookedAt(page, place);
  }

  test('in a form of the console and in its cards of trouble', LONG, async () => {
    expect(await within(['h'], '.form')).toEqual(expect.arrayContaining(['1 … 9', 'Enter', 'Esc', '↓', '↑']));
    await nurse.press('Escape');
    const cards = await within(['t'], '.trouble');
    expect(cards).toEqual(expect.arrayContaining(['1', '2', '3', 'T', 'Esc']));
    await nurse.press('1');
    expect(await within([], '.trouble-steps')).toContain('Enter');
    await nurse.press('Escape');
  });

  test('in each part of the ledger room, with what of the console is heard there', LONG, async () => {
    const list = await within(['g'], '.ledger');
    expect(list).toEqual(expect.arrayContaining(['F', 'Home', 'Page ↓', 'Enter', 'H', 'T']));
    // The pump and the beam are not handled unseen.
    expect(list).not.toContain('B');
    expect(await within(['f'], '.find-panel')).toEqual(expect.arrayContaining(['P', 'L', 'Enter', 'Esc']));
    await nurse.press('Escape');
    expect(await within(['e'], '.export-panel')).toContain('Esc');
    await nurse.press('Escape');
    await nurse.press('v');
    await page.getByText(/entries read, up to entry/).waitFor(SOON);
    expect(await within([], '.verify-panel')).toContain('K');
    await nurse.press('Escape');
    expect(await within(['Enter'], '.entry-row')).toEqual(expect.arrayContaining(['A', 'E', 'W', 'Esc']));
    expect(await within(['2'], '.figure-view')).toContain('Page ↓');
    await within(['3'], '.ledger');
    await nurse.press('Escape');
    await within(['2'], '.clinic');
    await within(['3'], '.privacy');
    await nurse.press('1');
    await nurse.press('Escape');
    await nurse.stateIs('infusing');
  });

  test('in the settings room and the people room', LONG, async () => {
    expect(await within(['j'], '.settings')).toEqual(expect.arrayContaining(['E', 'I', 'Enter', 'H']));
    const inChoice = await within(['Enter'], '.settings form');
    // The choice has the focus: no letter goes past it to the console.
    expect(inChoice).not.toContain('H');
    await nurse.press('h');
    await expectShown(page.locator('.settings form')).toBeVisible();
    await nurse.press('Escape');
    await within(['i'], '.settings-file');
    await nurse.press('Escape');
    await nurse.press('Escape');
    expect(await within(['u'], '.people')).toContain('Esc');
    await nurse.press('Escape');
  });

  test('while it is open, nothing below it hears a key', LONG, async () => {
    const before = kinds();
    await nurse.press('g');
    await page.locator('.session-row').first().waitFor(SOON);
    await nurse.press('?');
    for (const key of ['f', 'e', 'h', 'x', '2', 'ArrowDown']) await nurse.press(key);
    await nurse.press('Escape');
    await expectShown(page.locator('.session-row').first()).toBeVisible();
    await expectShown(page.locator('.find-panel, .export-panel, .form')).toHaveCount(0);
    await nurse.press('Escape');
    await nurse.stateIs('infusing');
    expect(kinds()).toEqual(before);
  });

  test('in a text field it is a question mark', async () => {
    await nurse.pressUntil('n', nurse.form);
    await nurse.type({ note: 'pain?' });
    await expectShown(nurse.form.getByRole('textbox', { name: 'note' })).toHaveValue('pain?');
    await expectShown(listAt(page)).toBeHidden();
    await nurse.press('Escape');
  });

  test('what Enter confirms has to stand for a while again after the list', async () => {
    await nurse.look();
    await nurse.press('?');
    await expectShown(listAt(page)).toBeVisible();
    await nurse.press('Enter');
    await expectShown(listAt(page)).toBeHidden();
    await nurse.press('Enter');
    await expectShown(nurse.said).toHaveText(/that has just changed/);
    await nurse.stateIs('infusing');
  });

  test('in a ledger of its own, where it can be asked for with a mouse too', LONG, async () => {
    const ledger = await screens.open('ledger');
    await ledger.locator('.session-row').first().waitFor(SOON);
    const keys = await lookedAt(ledger, '.ledger');
    expect(keys).toEqual(expect.arrayContaining(['F', 'V', 'Enter', 'Tab']));
    expect(keys).not.toContain('H');
    await ledger.getByRole('button', { name: '? keys' }).click();
    await expectShown(listAt(ledger)).toBeVisible();
    expect(screens.errors).toEqual([]);
  });

  test('on the board it is a line at the edge, which goes by the next key or by itself', LONG, async () => {
    const board = await screens.open('board', { width: 1920, height: 1080 });
    const number = board.locator('.board-fitted');
    await number.waitFor(SOON);
    const line = board.getByRole('status').filter({ hasText: 'heard at the console' });
    const size = await number.boundingBox();
    await board.keyboard.press('?');
    await expectShown(line).toBeVisible();
    expect(await number.boundingBox()).toEqual(size);
    const [box, numberBox] = [await line.boundingBox(), size];
    expect(box?.y).toBeGreaterThan((numberBox?.y ?? 0) + (numberBox?.height ?? 0));
    expect(await wrongIn(board)).toEqual([]);
    await board.keyboard.press('d');
    await expectShown(line).toBeHidden();
    await expectShown(board.locator('html')).toHaveAttribute('data-dim', '2');
    await board.keyboard.press('?');
    await expectShown(line).toBeVisible();
    await expectShown(line).toBeHidden({ timeout: 30_000 });
    expect(screens.errors).toEqual([]);
  });
});

describe.skipIf(CHROMIUM === null)('where people are on a roster', () => {
  const screens = carriedScreens(IN_EARNEST);

  test('? works while the first administrator is entered, and over the code for the safe', LONG, async () => {
    const page = await screens.open('console');
    const nurse = nurseAt(page);
    await nurse.look();
    await nurse.pressUntil('Enter', nurse.form);
    await nurse.type({ name: 'Ada Example?', initials: 'ad', role: '5', PIN: '284159', 'PIN again': '284159' });
    await nurse.goTo('role');
    expect(await lookedAt(page, '.form')).toContain('1 … 9');
    await nurse.enter();
    await page.locator('.recovery-code').waitFor(SOON);
    expect(await lookedAt(page, '.recovery-code')).toEqual(['Enter', 'Tab', 'Ctrl Q']);
    await nurse.press('Enter');
    await expectShown(page.locator('.recovery-code')).toBeHidden();
  });

  test('keys that a room takes for itself were pressed by hands at the keyboard too', LONG, async () => {
    const page = await screens.open('console');
    const sent: string[] = [];
    page.on('websocket', (socket) => socket.on('framesent', ({ payload }) => sent.push(String(payload))));
    await page.reload();
    const nurse = nurseAt(page);
    await nurse.look();
    await nurse.tell('w', { initials: 'ad', PIN: '284159' });
    await nurse.press('u');
    await page.locator('.person-row').waitFor(SOON);
    const atHand = (): number => sent.filter((frame) => frame.includes('"at-hand"')).length;
    const before = atHand();
    // As if a while had gone by: it is told once in a while, however many keys are pressed.
    await page.evaluate(() => {
      const now = performance.now.bind(performance);
      performance.now = () => now() + 60_000;
    });
    await nurse.press('ArrowDown');
    await expectShown.poll(atHand, SOON).toBe(before + 1);
  });
});

describe.skipIf(CHROMIUM === null)('where the console speaks German', () => {
  const screens = carriedScreens(1, () => folderSpeaking('de'));

  test('the list does too, but for the keys of a room, which is English', LONG, async () => {
    const page = await screens.open('console');
    const nurse = nurseAt(page, (words) => say(words, 'de'));
    await nurse.look();
    await nurse.press('?');
    const list = listAt(page, 'Tasten');
    await expectShown(list).toContainText(say('hold the infusion', 'de'));
    await nurse.press('Escape');
    await nurse.press('g');
    await page.locator('.ledger').waitFor(SOON);
    await nurse.press('?');
    await expectShown(list.locator('dl[lang="en"]')).toContainText('verify');
    await expectShown(list).toContainText(say('of the console, heard here too', 'de'));
    await expectShown(list).toContainText(say('sound check', 'de'));
    expect(await wrongIn(page)).toEqual([]);
  });
});
