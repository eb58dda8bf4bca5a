import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { KEYS } from '../../../core/keys/key-table.ts';
import type { Command } from '../../../core/procedure/commands.ts';
import { entriesIn, kindsIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

/** Longer than anything has to stand before a key confirms it. */
const HELD_PRESSES = 40;
const HELD_EVERY_MS = 60;

describe.skipIf(CHROMIUM === null)('the keys of the console', () => {
  const screens = carriedScreens();
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    await nurse.signIn('MO', 'nurse');
  });

  const kinds = (sessionId?: string): string[] => kindsIn(screens.carrier().ledgerFile, sessionId);
  const sessions = (): number => kinds().filter((kind) => kind === 'open-session').length;
  /** A session in front, as far as before a step. */
  async function before(step: string, ...further: Command[]): Promise<string> {
    const sessionId = await sessionBefore(page, step, ...further);
    await expectShown(page.getByRole('region', { name: 'the way on' })).toBeVisible();
    await nurse.look();
    return sessionId;
  }

  async function holdDown(key: string): Promise<void> {
    for (let press = 0; press < HELD_PRESSES; press += 1) {
      await page.keyboard.down(key);
      await page.waitForTimeout(HELD_EVERY_MS);
    }
    await page.keyboard.up(key);
  }

  test('Enter held down confirms one step, not the next', async () => {
    const sessionId = await before('prepare', { kind: 'stop-early', reason: 'the patient asks to stop' });
    const there = sessions();
    await nurse.stateIs('stopped early');
    await holdDown('Enter');
    await nurse.stateIs('discharged');
    expect(kinds(sessionId).slice(-2)).toEqual(['stop-early', 'discharge']);
    expect(sessions()).toBe(there);
  });

  test('two quick presses of Enter confirm one step', async () => {
    const sessionId = await before('prepare', { kind: 'stop-early', reason: 'the patient asks to stop' });
    const there = sessions();
    await nurse.stateIs('stopped early');
    await Promise.all([nurse.press('Enter'), nurse.press('Enter')]);
    await nurse.stateIs('discharged');
    await nurse.press('Enter');
    await expectShown(nurse.said).toHaveText(/that has just changed/);
    expect(kinds(sessionId).slice(-2)).toEqual(['stop-early', 'discharge']);
    expect(sessions()).toBe(there);
  });

  test('Enter held down opens a form, and does not enter it', async () => {
    const sessionId = await before('prepare');
    await holdDown('Enter');
    await expectShown(nurse.form.getByRole('heading')).toHaveText('drug reconstituted, infusate made');
    expect(kinds(sessionId)).not.toContain('prepare');
    await nurse.press('Escape');
  });

  test('two quick presses of a number confirm one task', async () => {
    const sessionId = await before('consent');
    await Promise.all([nurse.press('2'), nurse.press('2')]);
    await expectShown(nurse.taskLine(2)).toHaveAttribute('data-done', 'true');
    expect(kinds(sessionId)).toEqual(['open-session', 'identify', 'check']);
  });

  test('Enter in a form enters the form, and does not fall through to the way on', async () => {
    const sessionId = await before('prepare');
    await nurse.tell('n', { note: 'patient is calm' });
    await nurse.press('Enter');
    await expectShown(nurse.said).toHaveText(/that has just changed/);
    await expectShown(nurse.form).toBeHidden();
    expect(kinds(sessionId).slice(-2)).toEqual(['second-check', 'note']);
  });

  test('in a text field every key types', async () => {
    const sessionId = await before('prepare');
    await nurse.pressUntil('n', nurse.form);
    await nurse.type({ note: '1 2 3 x h w ? d' });
    await expectShown(nurse.form.getByRole('textbox', { name: 'note' })).toHaveValue('1 2 3 x h w ? d');
    await nurse.press('Escape');
    await expectShown(nurse.form).toBeHidden();
    expect(kinds(sessionId).at(-1)).toBe('second-check');
  });

  test('Tab leads to every button in turn, each with a focus that is seen', async () => {
    await before('consent');
    const wanted = new Set(await page.getByRole('button').allTextContents());
    const reached = new Map<string, boolean>();
    for (let tabs = 0; tabs < 2 * wanted.size; tabs += 1) {
      await nurse.press('Tab');
      const [words, seen] = await page.evaluate(() => {
        const { activeElement } = document;
        if (!(activeElement instanceof HTMLElement)) return ['', false] as const;
        const { outlineStyle, outlineWidth } = getComputedStyle(activeElement);
        return [activeElement.textContent, outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2] as const;
      });
      if (wanted.has(words)) reached.set(words, seen);
    }
    expect([...wanted].filter((words) => !reached.has(words))).toEqual([]);
    expect([...reached].filter(([, seen]) => !seen)).toEqual([]);
  });

  test('what Tab leads to is pressed by Enter, and nothing else is', async () => {
    const sessionId = await before('prepare');
    const note = page.getByRole('button', { name: 'N note' });
    while (!(await note.evaluate((node) => node === document.activeElement))) await nurse.press('Tab');
    await nurse.press('Enter');
    await expectShown(nurse.form.getByRole('heading')).toHaveText('note');
    await nurse.press('Escape');
    expect(kinds(sessionId).at(-1)).toBe('second-check');
  });

  test('? lists every key, and nothing below the list hears one', async () => {
    await before('consent');
    await nurse.press('?');
    const list = page.getByRole('dialog', { name: 'keys' });
    await expectShown(list).toBeVisible();
    for (const { words } of KEYS) await expectShown(list.getByText(words).first()).toBeVisible();
    await nurse.press('n');
    await expectShown(nurse.form).toBeHidden();
    await nurse.press('Escape');
    await expectShown(list).toBeHidden();
  });

  test('a closed way on names each thing that it waits for', async () => {
    const sessionId = await before('identify');
    const missing = page.getByRole('region', { name: 'the way on' }).getByRole('listitem');
    await expectShown(missing).toHaveText([
      'the patient is not identified by two identifiers',
      'consent is not confirmed',
      'no regimen and eye are ordered by a named physician',
      'the screening questions are not answered',
      'height and weight are not entered',
      'no dose is computed yet',
      'a second person has not computed the dose independently',
    ]);
    await nurse.press('Enter');
    await expectShown(nurse.said).toHaveText('it waits for what is named above');
    expect(kinds(sessionId)).toEqual(['open-session']);
  });

  test('E goes on with a reason where that may be, and says so where it may not', async () => {
    await before('identify');
    await nurse.press('e');
    await expectShown(nurse.said).toHaveText('there is nothing to go on to with a reason');

    const sessionId = await before('time-out');
    await nurse.pressUntil('e', nurse.form);
    await expectShown(nurse.form.getByText('the time-out is not done')).toBeVisible();
    await nurse.type({ 'reason for going on': 'done aloud, the key was not pressed' });
    await nurse.enter();
    await nurse.stateIs('line primed');
    await expectShown(page.getByText('1 deviation')).toBeVisible();
    const last = entriesIn(screens.carrier().ledgerFile).findLast((entry) => entry.sessionId === sessionId);
    expect(last?.payload).toMatchObject({
      override: { reason: 'done aloud, the key was not pressed' },
      found: { missing: ['the time-out is not done'] },
    });
  });

  test('a confirmation is taken back by Shift and its number, with a reason', async () => {
    const sessionId = await before('order');
    await nurse.press('2');
    await expectShown(nurse.said).toHaveText(/confirmed already: Shift 2/);
    await nurse.tell('Shift+Digit2', { reason: 'the form is not signed' });
    await expectShown(nurse.taskLine(2)).toHaveAttribute('data-done', 'false');
    expect(kinds(sessionId).at(-1)).toBe('uncheck');
  });
});
