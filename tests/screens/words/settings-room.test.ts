import { AxeBuilder } from '@axe-core/playwright';
import type { Locator, Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { settingsFileText } from '../../../core/settings/file-text.ts';
import { LANGUAGES } from '../../../core/settings/language.ts';
import { DEFAULT_SETTINGS } from '../../../core/settings/settings.ts';
import { say } from '../../../renderer/words/say.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { keepPicture } from './kept-picture.ts';
import { notSaid, unseen } from './seen-faults.ts';
import { folderSpeaking } from './speaking-folder.ts';

const LONG = { timeout: 240_000 };
const SOON = { timeout: 30_000 };
const GROUPS = ['1', '2', '3', '4', '5', '6'];

const OTHERS = LANGUAGES.filter((language) => language !== 'en');

describe.skipIf(CHROMIUM === null).each(OTHERS)('the settings room in %s', (language) => {
  const screens = carriedScreens(1, () => folderSpeaking(language));
  let page: Page;
  let nurse: Nurse;
  let form: Locator;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page, (words) => say(words, language));
    form = page.locator('.settings form');
    await nurse.signIn('MO', 'nurse');
    await nurse.press('j');
    await page.locator('.setting-row').first().waitFor(SOON);
  });

  const press = (key: string): Promise<void> => page.keyboard.press(key);
  const rows = (): Locator => page.locator('.setting-row');
  async function faults(where: string): Promise<string[]> {
    await keepPicture(page, `${language} settings ${where}`);
    return [...(await notSaid(page, language)), ...(await unseen(page))].map((fault) => `${where}: ${fault}`);
  }
  /** What is found in a place for every setting, as the keys lead to it. */
  async function throughAll(look: (where: string) => Promise<string[]>): Promise<string[]> {
    const found: string[] = [];
    for (const group of GROUPS) {
      await press(group);
      await expectShown(page.locator('.room-tab[aria-current]')).toContainText(group, SOON);
      const count = await rows().count();
      for (let row = 0; row < count; row += 1) {
        await expectShown(rows().nth(row)).toHaveAttribute('data-here', 'true', SOON);
        found.push(...(await look(`group ${group} row ${row + 1}`)));
        await press('ArrowDown');
      }
    }
    return found;
  }

  /** What no setting of figures takes, and some text does: that is not entered. */
  async function typed(where: string): Promise<string[]> {
    await form.getByRole('textbox').first().fill('?');
    if ((await form.locator('.way-on').getAttribute('data-open')) === 'true') return faults(`${where} typed`);
    await press('Enter');
    await form.locator('.form-field-error').waitFor(SOON);
    return faults(`${where} not allowed`);
  }

  test('says every setting, and cuts none of it off', LONG, async () => {
    const found = await throughAll(async (where) => {
      const scrolled = (await page.locator('.setting-more').count()) > 0;
      return [...(await faults(where)), ...(scrolled ? [`${where}: has to be scrolled`] : [])];
    });
    expect(found).toEqual([]);
    await press('?');
    await page.locator('dialog.keys').waitFor(SOON);
    expect(await faults('keys')).toEqual([]);
    await press('Escape');
  });

  test('says how each is changed, what is allowed, and what to weigh', LONG, async () => {
    const found = await throughAll(async (where) => {
      await press('Enter');
      await form.waitFor(SOON);
      // As it is in force it is refused, and nothing is written.
      await press('Enter');
      await form.locator('.missing').waitFor(SOON);
      const opened = await faults(`${where} refused`);
      const choices = await form.getByRole('radio').count();
      for (let choice = 1; choice <= choices; choice += 1) {
        await press(String(choice));
        opened.push(...(await faults(`${where} choice ${choice}`)));
      }
      if (choices === 0) opened.push(...(await typed(where)));
      await press('Escape');
      await rows().first().waitFor(SOON);
      return opened;
    });
    expect(found).toEqual([]);
  });

  test('says what was changed, by whom and why, and leaves what was typed as it is', LONG, async () => {
    await press('6');
    await press('Home');
    await press('ArrowDown');
    await press('Enter');
    await form.getByRole('textbox').first().fill('/srv/5.5 or none');
    await form.getByRole('textbox').last().fill('yes');
    await press('Enter');
    await rows().first().waitFor(SOON);
    await expectShown(page.locator('.room-said')).toContainText('→ /srv/5.5 or none', SOON);
    await expectShown(page.locator('.setting-last')).toContainText(say('by the settings screen', language), SOON);
    await expectShown(page.locator('.setting-last')).toContainText(/ · yes$/);
    expect(await faults('changed')).toEqual([]);
  });

  test('says what a file would change, and what was taken from it', LONG, async () => {
    await press('i');
    const file = page.getByLabel(say('choose a file of settings', language));
    await expectShown(file).toBeFocused(SOON);
    await press('Enter');
    const found = await faults('file');
    const given = (name: string, text: string) =>
      file.setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
    await given('yes.json', '{ "lineMl": "much" }');
    await form.getByText(/^yes\.json, line 1, lineMl: allowed: 0 to 20 mL/).waitFor(SOON);
    found.push(...(await faults('file with a fault')));
    const changes = { lineMl: 1.5, formula: 'boyd', lightCareHours: 24, spokenCues: true } as const;
    await given('yes.json', settingsFileText({ ...DEFAULT_SETTINGS, ...changes, language, boardWidthMm: 598.5 }));
    await form.locator('.settings-changes li').nth(4).waitFor(SOON);
    found.push(...(await faults('file to be taken')));
    await press('Enter');
    await expectShown(page.locator('.room-said')).toHaveText(say('6 settings taken from yes.json', language), SOON);
    found.push(...(await faults('file taken')));
    expect(found).toEqual([]);
  });

  test('keeps nobody out', LONG, async () => {
    expect(await keptOut(page)).toEqual([]);
    await press('Enter');
    await form.waitFor(SOON);
    expect(await keptOut(page)).toEqual([]);
    expect(screens.errors).toEqual([]);
  });
});

async function keptOut(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
}
