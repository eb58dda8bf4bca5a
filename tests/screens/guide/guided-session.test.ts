import { AxeBuilder } from '@axe-core/playwright';
import type { Locator, Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { madeUpById } from '../../../core/practice/made-up-troubles.ts';
import { CHROMIUM, carriedScreens, newFolder } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { BODY, careAfter, plan, prepare, SECOND_COMPUTATION, SETTINGS } from '../whole-session.ts';

const SPEED = 20;
const WALK_MS = 240_000;
const SOON = { timeout: 40_000 };

/** The number of the reason under which each is held. */
const HELD_FOR = [
  { words: madeUpById('swelling').words, reason: '1' },
  { words: madeUpById('back-pain').words, reason: '2' },
  { words: madeUpById('pump-alarm').words, reason: '4' },
];

describe.skipIf(CHROMIUM === null)('guided practice in a browser', () => {
  const screens = carriedScreens(SPEED, newFolder, ['--guided']);
  let page: Page;
  let board: Page;
  let nurse: Nurse;
  let strip: Locator;
  let lesson: Locator;

  beforeAll(async () => {
    board = await screens.open('board', { width: 1920, height: 1080 });
    page = await screens.open('console');
    // A cue that comes and goes would be measured half gone.
    await page.emulateMedia({ reducedMotion: 'reduce' });
    nurse = nurseAt(page);
    strip = page.locator('.guide-strip');
    lesson = page.getByRole('region', { name: 'guided practice' });
  });

  /** Whether everything is in its place: nothing wider or higher than what holds it, and nothing that keeps a person out. */
  async function wellDrawn(stage: string): Promise<void> {
    await keep(page, stage);
    expect(await overflowing(page), stage).toEqual([]);
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze();
    expect(
      violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`),
      stage,
    ).toEqual([]);
  }

  test('the lesson and the next key stand beside every step of the way to the pump', { timeout: WALK_MS }, async () => {
    await plan(nurse, async () => {
      await expectShown(lesson).toContainText('patient, by two identifiers');
      await expectShown(lesson).toContainText('The second person computes alone');
      await wellDrawn('planning');
    });
    await putWeightRight();
    await expectShown(lesson).toContainText('drug reconstituted, infusate made');
    await prepare(nurse, async (stage) => {
      await expectShown(lesson).toContainText(stage === 'prepared' ? 'lot and expiry of the vial' : 'filter and line');
      await wellDrawn(stage);
    });
  });

  /** Both computed for the weight that was entered first, and the scale shows another. */
  async function putWeightRight(): Promise<void> {
    await expectShown(strip).toHaveAttribute('data-told', 'true', SOON);
    await expectShown(strip).toContainText(madeUpById('wrong-weight').answer);
    await expectShown(lesson).toContainText('height and weight');
    await wellDrawn('wrong weight told');
    const [, weight = ''] = /the scale shows ([\d.]+) kg/.exec((await strip.textContent()) ?? '') ?? [];
    await nurse.taskWith(5, { ...BODY, weight });
    await nurse.taskWith(6, { ...SECOND_COMPUTATION, weight });
    await expectShown(strip).toHaveAttribute('data-told', 'false');
  }

  test('trouble in the infusion is told, and met by a hold', { timeout: WALK_MS }, async () => {
    await nurse.wayOn('pump on');
    await nurse.stateIs('infusing');
    await expectShown(strip).toHaveAttribute('data-told', 'true', SOON);
    const told = (await strip.textContent()) ?? '';
    const meant = HELD_FOR.find(({ words }) => told.includes(words));
    await expectShown(lesson).toContainText('trouble: what to do');
    await keep(page, 'trouble told');
    await nurse.pressUntil('h', nurse.form);
    await nurse.press(meant?.reason ?? '');
    await expectShown(strip).toHaveAttribute('data-told', 'false');
    await expectShown(lesson).toContainText('resume the infusion');
    await wellDrawn('held');
    await goOn();
    await nurse.wayOn('pump off, begin the flush');
    await nurse.wayOn('flush done');
    await nurse.enter();
  });

  /** After swelling only with a reason. */
  async function goOn(): Promise<void> {
    const running = page.getByRole('button', { name: 'hold the infusion' });
    await nurse.press('r');
    await running.or(nurse.form).first().waitFor();
    if (await nurse.form.isVisible()) {
      await nurse.type({ 'reason for going on': 'another vein is in' });
      await nurse.enter();
    }
    await expectShown(running).toBeVisible();
  }

  test('an operator who would begin early waits, and an eye that moves has its light off', {
    timeout: WALK_MS,
  }, async () => {
    await nurse.stateIs('waiting for light window');
    await nurse.signIn('RV', 'operator');
    await nurse.taskWith(1, SETTINGS);
    for (const number of [2, 3, 4]) await nurse.task(number);
    await wellDrawn('waiting');
    await nurse.wayOn('right eye: beam on');
    await nurse.stateIs('light delivery');
    await expectShown(strip).toContainText(madeUpById('moved-eye').words, SOON);
    await nurse.press('b');
    await expectShown(strip).toHaveAttribute('data-told', 'false');
    await expectShown(nurse.wayOnLine).toContainText('beam on again');
    await wellDrawn('beam off');
    await nurse.wayOn('right eye: beam on again');
    await nurse.wayOn('the laser ended the light by itself');
    await nurse.wayOn('light done, go to after-care');
  });

  test('afterwards it is said what went well, and that practice proves nothing', { timeout: WALK_MS }, async () => {
    await careAfter(nurse);
    const review = page.getByRole('region', { name: 'review of this practice' });
    await expectShown(review.getByRole('list', { name: 'went well' })).toContainText('answered in');
    await expectShown(review).toContainText('the second computation was by other hands');
    await expectShown(review).toContainText('no drug was made up for another weight');
    await expectShown(review).toContainText('Practice proves nothing about competence');
    await wellDrawn('review');
  });

  test('the board shows nothing of it but that this is practice', async () => {
    await expectShown(board.locator('body')).toContainText(/practice/i);
    expect(await board.locator('[class^="guide"]').count()).toBe(0);
  });

  test('left no error in either page', () => {
    expect(screens.errors).toEqual([]);
  });
});

/** Boxes whose content does not fit them, by their class. */
async function overflowing(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll('.console, .columns > *, .guide-strip, .guide-lesson, .guide-review, .head, .foot')]
      .filter((box) => box.scrollHeight > box.clientHeight + 1 || box.scrollWidth > box.clientWidth + 1)
      .map(
        (box) =>
          `${box.className}: ${box.scrollWidth} × ${box.scrollHeight} in ${box.clientWidth} × ${box.clientHeight}`,
      ),
  );
}

/** Kept for a person to look at, where a folder is named. */
async function keep(page: Page, stage: string): Promise<void> {
  const folder = process.env.DIMROOM_SHOTS;
  if (folder !== undefined) await page.screenshot({ path: `${folder}/${stage.replaceAll(' ', '-')}.png` });
}
