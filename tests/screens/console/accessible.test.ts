import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

describe.skipIf(CHROMIUM === null)('nothing that keeps a person out is found', () => {
  const screens = carriedScreens(1);
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    await nurse.signIn('MO', 'nurse');
  });

  /** What is wrong, each with where it is. */
  async function found(on: Page): Promise<string[]> {
    const { violations } = await new AxeBuilder({ page: on }).setLegacyMode(true).analyze();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  }

  test('on the console before a session', async () => {
    expect(await found(page)).toEqual([]);
  });

  test('on the console while planning', async () => {
    await sessionBefore(page, 'order');
    await nurse.stateIs('planning');
    expect(await found(page)).toEqual([]);
  });

  test.each([
    ['of the order', '3'],
    ['of the screening', '4'],
    ['of height and weight', '5'],
  ])('in the form %s, with what it says is wrong', async (_form, key) => {
    await nurse.pressUntil(key, nurse.form);
    await nurse.look();
    await nurse.press('Enter');
    await expectShown(nurse.form.locator('[data-bad="true"]').first()).toBeVisible();
    expect(await found(page)).toEqual([]);
    await nurse.press('Escape');
  });

  test('in the list of keys', async () => {
    await nurse.press('?');
    await expectShown(page.getByRole('dialog')).toBeVisible();
    expect(await found(page)).toEqual([]);
    await nurse.press('Escape');
  });

  test('on console and board while infusing, bright and dim', async () => {
    const board = await screens.open('board', { width: 1920, height: 1080 });
    await sessionBefore(page, 'begin-flush');
    await nurse.stateIs('infusing');
    await board.getByText('to the light window').waitFor();
    expect(await found(board)).toEqual([]);
    expect(await found(page)).toEqual([]);
    await nurse.press('d');
    await nurse.press('d');
    await expectShown(page.locator('html')).toHaveAttribute('data-dim', '3');
    expect(await found(page)).toEqual([]);
  });

  test('in the ledger', async () => {
    const ledger = await screens.open('ledger');
    await expectShown(ledger.getByRole('list', { name: 'sessions' }).getByRole('listitem')).not.toHaveCount(0);
    expect(await found(ledger)).toEqual([]);
    await ledger.keyboard.press('Enter');
    await ledger.getByRole('list', { name: 'entries' }).waitFor();
    await ledger.keyboard.press('Enter');
    expect(await found(ledger)).toEqual([]);
  });
});
