import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens, IN_EARNEST } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';

const PIN = { AD: '284159', MO: '907163' } as const;

describe.skipIf(CHROMIUM === null)('a clinic’s people, by the keyboard', () => {
  const screens = carriedScreens(IN_EARNEST);
  let page: Page;
  let nurse: Nurse;
  let code: string;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
  });

  const room = () => page.getByRole('region', { name: 'people' });
  const entries = () => entriesIn(screens.carrier().ledgerFile);
  const signIn = (initials: keyof typeof PIN): Promise<void> => nurse.tell('w', { initials, PIN: PIN[initials] });
  async function found(): Promise<string[]> {
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  }

  test('the first run begins the roster with its administrator, and shows the code for the safe until it is written down', async () => {
    await nurse.look();
    await nurse.pressUntil('Enter', nurse.form);
    await expectShown(page.getByRole('heading', { level: 1 })).toHaveText('the first administrator');
    expect(await found()).toEqual([]);
    await nurse.type({ name: 'Ada Example', initials: 'ad', role: '5', PIN: PIN.AD, 'PIN again': '284158' });
    await nurse.press('Enter');
    await expectShown(nurse.form).toContainText('not the same digits');
    await nurse.type({ PIN: PIN.AD, 'PIN again': PIN.AD });
    await nurse.enter();
    const shown = page.getByRole('region', { name: 'recovery code' });
    await shown.waitFor({ timeout: 60_000 });
    code = (await shown.locator('.recovery-code-signs').textContent()) ?? '';
    expect(code).toMatch(/^([A-Z2-9]{5}-){4}[A-Z2-9]{5}$/);
    expect(await found()).toEqual([]);
    await nurse.press('Escape');
    await nurse.press('h');
    await expectShown(shown).toBeVisible();
    await nurse.press('Enter');
    await shown.waitFor({ state: 'hidden' });
    await expectShown(page.locator('.head')).toContainText('AD, administrator');
  });

  test('somebody joins, and cannot be typed with initials that are taken', async () => {
    await nurse.press('u');
    await room().waitFor();
    expect(await found()).toEqual([]);
    const nurseJoins = { name: 'Mo Example', initials: 'AD', role: '1', PIN: PIN.MO, 'PIN again': PIN.MO };
    await nurse.pressUntil('n', nurse.form);
    await nurse.type(nurseJoins);
    await nurse.press('Enter');
    await expectShown(nurse.form).toContainText('choose others');
    await nurse.type({ initials: 'MO' });
    expect(await found()).toEqual([]);
    await nurse.press('Enter');
    await expectShown(room().getByRole('listitem')).toHaveCount(2);
    await expectShown(room()).toContainText('Mo Example');
    await nurse.press('Escape');
  });

  test('an administrator opens no session; the nurse signs in without a mouse, and does', async () => {
    await nurse.look();
    await nurse.press('Enter');
    await expectShown(nurse.said).toContainText('nurse or physician');
    await nurse.pressUntil('w', nurse.form);
    await nurse.type({ initials: 'mo', PIN: '111229' });
    await nurse.press('Enter');
    await expectShown(nurse.form).toContainText('do not belong together');
    await nurse.type({ PIN: PIN.MO });
    await nurse.enter();
    await nurse.wayOn('open a session');
    await nurse.stateIs('planning');
    const [opened] = entries().filter(({ kind }) => kind === 'open-session');
    expect(opened?.author).toEqual({ initials: 'MO', role: 'nurse' });
  });

  test('hands change in mid-session, and the session stays in front', async () => {
    await signIn('AD');
    await nurse.stateIs('planning');
    await expectShown(page.locator('.head')).toContainText('AD, administrator');
    await signIn('MO');
    await nurse.stateIs('planning');
    const signedIn = entries().filter(({ kind }) => kind === 'signed-in');
    expect(signedIn.map(({ author }) => author.initials).slice(-2)).toEqual(['AD', 'MO']);
  });

  test('one Enter too many signs in once, and an answer that comes late closes no other form', async () => {
    await signIn('AD');
    const signedIn = () =>
      entries().filter(({ kind, author }) => kind === 'signed-in' && author.initials === 'MO').length;
    const before = signedIn();
    await nurse.pressUntil('w', nurse.form);
    await nurse.type({ initials: 'MO', PIN: PIN.MO });
    process.kill(screens.carrier().stationPid(), 'SIGSTOP');
    await nurse.press('Enter');
    await nurse.press('Enter');
    await expectShown(nurse.form).toContainText('writing');
    await nurse.press('Escape');
    await nurse.pressUntil('Shift+w', nurse.form);
    await nurse.type({ 'recovery code': 'ABCDE' });
    process.kill(screens.carrier().stationPid(), 'SIGCONT');
    await expectShown(page.locator('.head')).toContainText('MO, nurse', { timeout: 15_000 });
    await expectShown(nurse.form.getByLabel('recovery code')).toHaveValue('ABCDE');
    await nurse.press('Escape');
    await signIn('MO');
    expect(signedIn()).toBe(before + 2);
  });

  test('the ledger is read by those who may, and opens on whoever signs in there', async () => {
    await signIn('AD');
    await nurse.press('g');
    const ledger = page.getByRole('region', { name: 'ledger' });
    await expectShown(ledger).toContainText('that is for nurse, physician or auditor');
    await nurse.press('Escape');
    await signIn('MO');
    await nurse.press('g');
    await expectShown(ledger.getByRole('listitem').first()).toBeVisible();
    await nurse.press('Escape');
  });

  test('a page that is loaded anew is nobody’s, and shows the session all the same', async () => {
    await page.reload();
    await nurse.stateIs('planning');
    await expectShown(page.locator('.head')).toContainText('no hands signed in');
    await nurse.look();
    await nurse.press('1');
    await expectShown(page.getByRole('heading', { level: 1 })).toHaveText('who is at the keyboard?');
    await nurse.type({ initials: 'mo', PIN: PIN.MO });
    await nurse.press('Enter');
    await expectShown(page.locator('.head')).toContainText('MO, nurse');
    // What was wanted before is there now, without a second press.
    await expectShown(nurse.form.getByLabel('patient code')).toBeFocused();
    await nurse.press('Escape');
  });

  test('one’s own PIN is changed against the present one', async () => {
    await nurse.press('u');
    await nurse.pressUntil('m', nurse.form);
    await nurse.type({ 'PIN as it is now': PIN.MO, 'new PIN': '553107', 'new PIN again': '553107' });
    await nurse.press('Enter');
    await expectShown(room()).toContainText('your PIN is changed');
    await nurse.press('Escape');
    await nurse.tell('w', { initials: 'mo', PIN: '553107' });
  });

  test('an administrator without a PIN gets a new one by the code from the safe', async () => {
    await nurse.pressUntil('Shift+w', nurse.form);
    await nurse.type({
      'recovery code': code.toLowerCase().replaceAll('-', ' '),
      'the administrator’s initials': 'ad',
      'new PIN': '660214',
      'new PIN again': '660214',
    });
    await nurse.enter();
    await page.getByRole('region', { name: 'recovery code' }).waitFor({ timeout: 60_000 });
    await nurse.press('Enter');
    await nurse.tell('w', { initials: 'ad', PIN: '660214' });
    await expectShown(page.locator('.head')).toContainText('AD, administrator');
    expect(entries().map(({ kind }) => kind)).toContain('recovered');
  });

  test('the page reported no error, and no PIN is anywhere in it', async () => {
    expect(screens.errors).toEqual([]);
    const kept = await page.evaluate(() => JSON.stringify([sessionStorage, localStorage, document.body.innerHTML]));
    for (const pin of [...Object.values(PIN), '553107', '660214']) expect(kept).not.toContain(pin);
  });
});
