import { readFileSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import type { Locator, Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { settingsFileText } from '../../../core/settings/file-text.ts';
import { DEFAULT_SETTINGS, type Settings, settingsSchema } from '../../../core/settings/settings.ts';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';

const LONG = { timeout: 120_000 };
const SOON = { timeout: 30_000 };

describe.skipIf(CHROMIUM === null)('the settings room, by its keys alone', () => {
  const screens = carriedScreens(1);
  let page: Page;
  let nurse: Nurse;
  let line: Locator;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    line = page.locator('button.way-on');
    await expectShown(nurse.wayOnLine).toBeVisible(SOON);
  });

  const press = (key: string): Promise<void> => page.keyboard.press(key);
  const sees = (words: string | RegExp): Promise<void> => expectShown(page.getByText(words).first()).toBeVisible(SOON);
  const here = (): Locator => page.locator('.setting-row[data-here="true"]');
  const inForce = (): Settings =>
    settingsSchema.parse(
      entriesIn(screens.carrier().ledgerFile)
        .filter(({ kind }) => kind === 'settings')
        .at(-1)?.payload.settings,
    );
  const wrong = async (): Promise<string[]> => {
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  };
  /** What stands out of its box, or is cut off in it, at this size of screen. */
  const cutOff = (): Promise<string[]> =>
    page
      .locator('.settings button, .settings p, .settings dd, .settings h2')
      .evaluateAll((nodes) =>
        nodes
          .filter((node) => node.scrollWidth > node.clientWidth + 1 && getComputedStyle(node).display !== 'inline')
          .map((node) => node.textContent ?? ''),
      );

  test('opens by J, and can be read before anybody has signed in', LONG, async () => {
    await press('j');
    await expectShown(page.getByRole('heading', { level: 1, name: 'settings' })).toBeVisible(SOON);
    await sees('what follows from it');
    await sees('US prescribing information');
    await press('Enter');
    await sees(/^first, whose hands are at the keyboard/);
    expect(await wrong()).toEqual([]);
    await press('Escape');
    await nurse.signIn('MO', 'nurse');
  });

  test('leads through every group by its number and fits the screen in each', LONG, async () => {
    await press('j');
    for (const [number, words] of GROUPS) {
      await press(number);
      await expectShown(here()).toContainText(words, SOON);
      for (let row = 0; row < (await page.locator('.setting-row').count()); row += 1) {
        const name = (await page.locator('.setting-words').textContent()) ?? '';
        expect(await cutOff(), name).toEqual([]);
        await expectShown(page.locator('.setting-more'), name).toHaveCount(0);
        await press('ArrowDown');
      }
    }
    await press('1');
  });

  test('changes a choice by its number and Enter, says before → after, and it is an entry', LONG, async () => {
    await expectShown(here()).toContainText('product text');
    await press('Enter');
    await expectShown(line).toHaveText(/as it is · US/);
    await press('Enter');
    await sees('that is what is in force already: nothing to change');
    await press('2');
    await expectShown(line).toHaveText(/US → EU/);
    expect(await wrong()).toEqual([]);
    await press('Enter');
    await sees('product text that is followed · US → EU');
    await expectShown(page.locator('.setting-value')).toHaveText('EU', SOON);
    await sees(/MO, nurse · by the settings screen/);
    expect(inForce().profile).toBe('eu');
  });

  test('reads a figure with its limits, says what is allowed, and takes it once it is', LONG, async () => {
    await press('End');
    await expectShown(here()).toContainText('syringe is graduated in');
    await press('Enter');
    await press('ControlOrMeta+a');
    await page.keyboard.type('2');
    await press('Enter');
    await sees('allowed: 0.01 to 1 mL, in hundredths of a mL');
    expect(inForce().graduationMl).toBe(0.1);
    await press('ControlOrMeta+a');
    await page.keyboard.type('0,05');
    await expectShown(line).toHaveText(/0\.1 mL → 0\.05 mL/);
    await sees(/a second person checks it all the same/);
    await press('Tab');
    await page.keyboard.type('fine syringes, hjknw');
    await press('Enter');
    await sees('syringe is graduated in · 0.1 mL → 0.05 mL');
    await sees(/ · fine syringes, hjknw$/);
    expect(inForce().graduationMl).toBe(0.05);
  });

  test('leaves by Esc what was typed, without effect', LONG, async () => {
    const before = inForce();
    await press('6');
    await press('Enter');
    await press('ControlOrMeta+a');
    await page.keyboard.type('99');
    await press('Escape');
    await expectShown(page.locator('.setting-row')).not.toHaveCount(0, SOON);
    expect(inForce()).toEqual(before);
  });

  test('saves all as a file that says what is in force', LONG, async () => {
    const coming = page.waitForEvent('download', SOON);
    await press('e');
    const download = await coming;
    expect(download.suggestedFilename()).toBe('settings.json');
    expect(readFileSync(await download.path(), 'utf8')).toBe(settingsFileText(inForce()));
  });

  test('shows what a file would change before it is taken, and a bad one on which line it is wrong', LONG, async () => {
    const before = inForce();
    await press('i');
    const chooser = page.waitForEvent('filechooser', SOON);
    await expectShown(page.getByLabel('file of settings')).toBeFocused(SOON);
    await press('Enter');
    await (await chooser).setFiles({
      name: 'bad.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{\n  "profile": "us",\n  "lineMl": "much"\n}'),
    });
    await sees(/^bad\.json, line 3, lineMl: /);
    expect(await wrong()).toEqual([]);
    expect(inForce()).toEqual(before);

    await page.getByLabel('file of settings').setInputFiles({
      name: 'good.json',
      mimeType: 'application/json',
      buffer: Buffer.from(settingsFileText({ ...DEFAULT_SETTINGS, spokenCues: true })),
    });
    await sees('words after each tone · no → yes');
    await sees('product text that is followed · EU → US');
    await expectShown(line).toHaveText(/take 3 settings/);
    expect(await wrong()).toEqual([]);
    expect(await cutOff()).toEqual([]);
    expect(inForce()).toEqual(before);
    await press('Enter');
    await sees('3 settings taken from good.json');
    expect(inForce()).toEqual({ ...DEFAULT_SETTINGS, spokenCues: true });
  });

  test('takes the text of a file that is pasted, as seen before', LONG, async () => {
    await press('i');
    await expectShown(page.getByLabel('file of settings')).toBeFocused(SOON);
    await page.evaluate((text) => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', text);
      window.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
    }, settingsFileText(DEFAULT_SETTINGS));
    await sees('words after each tone · yes → no');
    await expectShown(line).toHaveText(/^take 1 setting(?!s)/);
    await press('Enter');
    await sees('1 setting taken from pasted text');
    expect(inForce()).toEqual(DEFAULT_SETTINGS);
  });

  test('goes back by Esc to the console, where the tasks are as they were', LONG, async () => {
    await press('Escape');
    await expectShown(nurse.wayOnLine).toBeVisible(SOON);
    expect(screens.errors).toEqual([]);
  });
});

const GROUPS = [
  ['2', 'line holds'],
  ['3', 'a press may be set back by'],
  ['4', 'cues are sounded by'],
  ['5', 'language'],
  ['6', 'hands sign in anew after'],
  ['1', 'product text'],
] as const;
