import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

describe.skipIf(CHROMIUM === null)('the ledger', () => {
  const screens = carriedScreens();
  let page: Page;
  let nurse: Nurse;
  let sessionId: string;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    sessionId = await sessionBefore(page, 'prime-line');
    await sessionBefore(page, 'consent', { kind: 'note', words: 'the second of the day' });
  });

  const sessions = () => page.getByRole('list', { name: 'sessions' }).getByRole('listitem');
  const rows = () => page.getByRole('list', { name: 'entries' }).getByRole('listitem');

  test('opens by its key over the console, newest session first', async () => {
    await nurse.press('g');
    await expectShown(sessions()).toHaveCount(2);
    await expectShown(sessions().first()).toContainText('planning PRACTICE');
    await expectShown(sessions().first()).toContainText('3 entries');
    await expectShown(sessions().last()).toContainText('prepared PRACTICE');
  });

  test('shows every entry of a session in plain words, with time and author', async () => {
    await nurse.press('ArrowDown');
    await nurse.press('Enter');
    const written = entriesIn(screens.carrier().ledgerFile).filter((entry) => entry.sessionId === sessionId);
    await expectShown(rows()).toHaveCount(written.length);
    for (const [index, words] of WORDS) await expectShown(rows().nth(index)).toContainText(words);
    for (const [index, { seq, author }] of written.entries()) {
      await expectShown(rows().nth(index)).toContainText(`${author.initials}, ${author.role}`);
      await expectShown(rows().nth(index)).toContainText(String(seq));
    }
  });

  test('shows what an entry holds only when asked', async () => {
    const [opening] = entriesIn(screens.carrier().ledgerFile).filter((entry) => entry.sessionId === sessionId);
    const hash = page.getByText(`sha-256 ${opening?.hash}`);
    await expectShown(hash).toBeHidden();
    await nurse.press('Enter');
    await expectShown(hash).toBeVisible();
    await nurse.press('ArrowDown');
    await expectShown(hash).toBeHidden();
    await expectShown(rows().nth(1)).toContainText('"birthDate": "1951-03-02"');
    await nurse.press('Enter');
    await expectShown(page.getByText('"birthDate"')).toBeHidden();
  });

  test('is left by Esc, step by step, and no number confirms a task that is not seen', async () => {
    const written = entriesIn(screens.carrier().ledgerFile).length;
    await nurse.press('2');
    await nurse.press('1');
    await expectShown(nurse.form).toBeHidden();
    await nurse.press('Escape');
    await expectShown(sessions()).toHaveCount(2);
    await nurse.press('Escape');
    await nurse.stateIs('planning');
    expect(entriesIn(screens.carrier().ledgerFile)).toHaveLength(written);
  });

  test('has an address of its own, and follows what is written', async () => {
    const alone = await screens.open('ledger');
    const list = alone.getByRole('list', { name: 'sessions' }).getByRole('listitem');
    await expectShown(list).toHaveCount(2);
    await sessionBefore(page, 'identify');
    await expectShown(list).toHaveCount(3);
    await expectShown(list.first()).toContainText('no patient');
  });
});

const WORDS: readonly (readonly [number, string])[] = [
  [0, 'practice session opened'],
  [1, 'patient K-2041, born 1951-03-02'],
  [2, 'confirmed: consent is signed and in the notes'],
  [3, 'ordered by the ordering physician: Label: full dose, full fluence, right eye, 2600 µm'],
  [4, 'screening: all answered no'],
  [6, 'second computation agrees'],
];
