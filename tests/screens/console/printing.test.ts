import { readFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { lettersIn, pagesIn } from '../../printed/read-pdf.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

describe.skipIf(CHROMIUM === null)('printing, by keyboard', () => {
  const screens = carriedScreens();
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    await nurse.signIn('MO', 'nurse');
  });
  beforeEach(async () => {
    if (await nurse.form.isVisible()) await nurse.press('Escape');
  });

  /** Presses keys one after the other, and gives back the file that comes of it. */
  async function madeBy(...keys: readonly string[]): Promise<{ name: string; pdf: Uint8Array }> {
    await nurse.pressUntil('k', nurse.form);
    const coming = page.waitForEvent('download');
    for (const key of keys) await nurse.press(key);
    const download = await coming;
    return { name: download.suggestedFilename(), pdf: readFileSync(await download.path()) };
  }
  const chosen = (group: string) => nurse.form.getByRole('radiogroup', { name: group }).locator('[data-chosen="true"]');

  test('the card for the wall is there before any session is, and one number makes it', async () => {
    const { name, pdf } = await madeBy('1');
    expect(name).toBe('dimroom-quick-card.pdf');
    expect((await pagesIn(pdf))[0]).toContain('not a certified medical device');
  });

  describe('with a patient who was given drug, and then no light', () => {
    beforeAll(async () => {
      await sessionBefore(page, 'begin-flush', { kind: 'stop-early', reason: 'the patient asks to stop' });
      await nurse.stateIs('stopped early');
    });

    test('the sheet waits for its language, which a number chooses; then for its print', async () => {
      const { name, pdf } = await madeBy('3', '2', '2', 'Enter');
      expect(name).toBe('PRACTICE-after-care-de-large-K-2041.pdf');
      expect((await pagesIn(pdf))[0]).toContain('Meiden Sie helles Licht bis');
      expect((await lettersIn(pdf)).filter(({ sizePt }) => sizePt >= 18).length).toBeGreaterThan(10);
    });

    test('Enter takes the language of the site and usual print', async () => {
      const { name, pdf } = await madeBy('3', 'Enter');
      expect(name).toBe('PRACTICE-after-care-en-K-2041.pdf');
      expect(await pagesIn(pdf)).toHaveLength(1);
    });

    test('the next patient’s sheet begins with the language of the site again', async () => {
      await madeBy('3', '4', 'Enter');
      await nurse.pressUntil('k', nurse.form);
      await nurse.press('3');
      await expectShown(chosen('language')).toHaveText(/English/);
      await expectShown(chosen('print')).toHaveText(/usual/);
    });

    test('the bracelet is asked for its language and has one size', async () => {
      await nurse.pressUntil('k', nurse.form);
      await nurse.press('4');
      await expectShown(nurse.form.getByRole('radiogroup', { name: 'language' })).toBeVisible();
      await expectShown(nurse.form.getByRole('radiogroup', { name: 'print' })).toBeHidden();
      await nurse.press('Escape');
      const { name, pdf } = await madeBy('4', '3', 'Enter');
      expect(name).toBe('PRACTICE-bracelet-es-K-2041.pdf');
      expect((await pagesIn(pdf))[0]).toContain('Verteporfina: proteger de la luz intensa hasta');
    });

    test('label and plan are made by one number, as before', async () => {
      expect((await madeBy('1')).name).toBe('PRACTICE-syringe-label-K-2041.pdf');
      expect((await madeBy('2')).name).toBe('PRACTICE-plan-K-2041.pdf');
    });

    test('before the first patient gets one, the form says who is to read it', async () => {
      await nurse.pressUntil('k', nurse.form);
      await nurse.press('3');
      const beside = page.getByRole('complementary', { name: 'before the first patient gets one' });
      await expectShown(beside).toContainText('a native speaker and the clinic read the words through: none has yet');
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id }) => id)).toEqual([]);
    });

    test('the screen and the sheet have the same date and time', async () => {
      const shown = await page.locator('.fact', { hasText: 'out of bright light until' }).locator('dd').textContent();
      const [, year, month, day, time] = /^(\d{4})-(\d\d)-(\d\d) (\d\d:\d\d)$/.exec(shown ?? '') ?? [];
      const { pdf } = await madeBy('3', '2', 'Enter');
      const monthWords = new Intl.DateTimeFormat('de', { month: 'long' }).format(Date.UTC(2031, Number(month) - 1, 15));
      expect((await pagesIn(pdf))[0]).toContain(`${Number(day)}. ${monthWords} ${year}, ${time} Uhr`);
    });
  });

  test('a sheet before its time is refused with when it will be there, and the form stays', async () => {
    await sessionBefore(page, 'start-pump');
    await nurse.pressUntil('k', nurse.form);
    await nurse.press('3');
    await nurse.press('Enter');
    await expectShown(nurse.form).toContainText('the after-care sheet is printed once the pump is off');
  });

  test('no page reports an error', () => {
    expect(screens.errors).toEqual([]);
  });
});
