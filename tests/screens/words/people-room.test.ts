import { AxeBuilder } from '@axe-core/playwright';
import type { Locator, Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { LANGUAGES } from '../../../core/settings/language.ts';
import { say } from '../../../renderer/words/say.ts';
import { CHROMIUM, carriedScreens, IN_EARNEST } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { PIN } from '../people/clinic-people.ts';
import { keepPicture } from './kept-picture.ts';
import { notSaid, unseen } from './seen-faults.ts';
import { folderSpeaking } from './speaking-folder.ts';

const LONG = { timeout: 120_000 };
const SOON = { timeout: 30_000 };

const OTHERS = LANGUAGES.filter((language) => language !== 'en');

describe.skipIf(CHROMIUM === null).each(OTHERS)('the people room in %s', (language) => {
  const screens = carriedScreens(IN_EARNEST, () => folderSpeaking(language));
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page, (words) => say(words, language));
  });

  const rows = (): Locator => page.locator('.person-row');
  async function faults(where: string): Promise<string[]> {
    await keepPicture(page, `${language} people ${where}`);
    return [...(await notSaid(page, language)), ...(await unseen(page))].map((fault) => `${where}: ${fault}`);
  }
  async function keptOut(): Promise<string[]> {
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  }
  const pins = { PIN: PIN.AD, 'PIN again': PIN.AD };

  test('is begun with its first administrator', LONG, async () => {
    await nurse.look();
    await nurse.press('u');
    await page.locator('.people-about').waitFor(SOON);
    const found = await faults('no roster');
    await nurse.press('Escape');
    await nurse.look();
    await nurse.pressUntil('Enter', nurse.form);
    await nurse.type({ name: 'Ada Example', initials: 'AD', role: '5', ...pins });
    found.push(...(await faults('first administrator')));
    await nurse.enter();
    await page.locator('.recovery-code-signs').waitFor(SOON);
    found.push(...(await faults('recovery code')));
    await nurse.press('Enter');
    await expectShown(page.locator('.head')).toContainText(say('AD, administrator', language), SOON);
    expect(found).toEqual([]);
  });

  test('says who is on the roster, and leaves names as they are', LONG, async () => {
    await nurse.press('u');
    for (const [index, initials] of (['MO', 'TK'] as const).entries()) {
      const names = { name: index === 0 ? 'right eye' : 'Tam Example', initials, role: '1', 'administers too': '1' };
      await nurse.tell('n', { ...names, PIN: PIN[initials], 'PIN again': PIN[initials] });
      await rows()
        .nth(index + 1)
        .waitFor(SOON);
    }
    await expectShown(rows().nth(1)).toContainText('right eye');
    expect(await faults('roster')).toEqual([]);
    expect(await keptOut()).toEqual([]);
    await nurse.press('?');
    await page.locator('dialog.keys').waitFor(SOON);
    expect(await faults('keys')).toEqual([]);
    await nurse.press('Escape');
  });

  test.each(['n', 'Enter', 'p', 'x', 'm'])('says its form of key %s, and what is wrong in it', LONG, async (key) => {
    await nurse.press('End');
    await nurse.pressUntil(key, nurse.form);
    const found = await faults(`form ${key}`);
    const hasFields = (await nurse.form.locator('input').count()) > 0;
    if (hasFields && key === 'Enter') await nurse.type({ name: 'x' });
    // Not the bounce of the key that opened it.
    await nurse.look();
    await nurse.press('Enter');
    if (hasFields) {
      await nurse.form.locator('.form-field-error').first().waitFor(SOON);
      found.push(...(await faults(`form ${key} refused`)));
      await nurse.press('Escape');
    }
    await nurse.form.waitFor({ state: 'hidden' });
    expect(found).toEqual([]);
  });

  test('says who has left, and the way back', LONG, async () => {
    await rows()
      .filter({ hasText: say('has left', language) })
      .waitFor(SOON);
    const found = await faults('has left');
    await nurse.press('End');
    await nurse.pressUntil('x', nurse.form);
    found.push(...(await faults('form x back')));
    await nurse.press('Escape');
    expect(found).toEqual([]);
    expect(screens.errors).toEqual([]);
  });
});
