import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { beforeAll, describe, expect, test } from 'vitest';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

const SPEED = 60;
const SOON = { timeout: 20_000 };
/** The slowest light of an alarm comes once in so long: 0.4 Hz, IEC 60601-1-8 as other code cites it. */
const SLOW_MS = 2500;

const foot = (page: Page) => page.locator('.foot-place');
const cueLine = (page: Page) => page.locator('.cue-line');

describe.skipIf(CHROMIUM === null)('a console without a sound device', () => {
  const screens = carriedScreens(SPEED);
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console');
    await page.context().addInitScript(() => {
      navigator.mediaDevices.enumerateDevices = async () => [];
    });
    await page.reload();
    nurse = nurseAt(page);
  });

  test('says so, at once and when the sound check is asked for', async () => {
    await expectShown(foot(page)).toContainText('no sound device is connected: watch the counts');
    await nurse.press('s');
    await expectShown(nurse.said).toHaveText(
      'nothing could be sounded: no sound device is connected: watch the counts',
    );
  });

  test('shows each cue at its instant, flashing slowly, and reports it as silent', async () => {
    const sessionId = await sessionBefore(page, 'begin-flush');
    await expectShown(cueLine(page)).toContainText('infusion at its end: pump off', SOON);
    await expectShown(cueLine(page)).toHaveAttribute('data-trusted', 'false');
    const periods = await page.evaluate(() =>
      document.getAnimations().flatMap(({ effect }) => {
        const { duration, iterations } = effect?.getTiming() ?? {};
        return (iterations ?? 1) > 1 ? [Number(duration)] : [];
      }),
    );
    expect(periods.length).toBeGreaterThan(0);
    expect(Math.min(...periods)).toBeGreaterThan(SLOW_MS);
    const silent = () =>
      entriesIn(screens.carrier().ledgerFile).filter(
        (entry) =>
          entry.kind === 'cue-sounded' && entry.sessionId === sessionId && entry.payload.cue === 'infusion-end',
      );
    await expect.poll(() => silent().length, SOON).toBeGreaterThan(0);
    expect(silent().map(({ payload }) => payload.outcome)).not.toContain('sounded');
  });

  test('stands still for a person who wants no motion', async () => {
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await expectShown(cueLine(page)).toContainText(/[a-z]/, SOON);
    const repeated = await page.evaluate(
      () => document.getAnimations().filter(({ effect }) => (effect?.getTiming().iterations ?? 1) > 1).length,
    );
    expect(repeated).toBe(0);
    await page.emulateMedia({ reducedMotion: null });
  });
});

describe.skipIf(CHROMIUM === null)('consoles with a sound device', () => {
  const screens = carriedScreens(SPEED);
  let first: Page;
  let second: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    first = await screens.open('console');
    await first.context().addInitScript(pretendDevice);
    await first.reload();
    second = await first.context().newPage();
    await second.goto(screens.carrier().console);
    nurse = nurseAt(first);
    for (const page of [second, first]) {
      await page.bringToFront();
      await page.keyboard.press('Shift');
      await expectShown(foot(page)).toContainText('volume 5 of 5', SOON);
    }
  });

  test('turn the volume by + and −, for every window and after the next start, and never to nothing', async () => {
    for (const level of [4, 3, 2]) await nurse.pressUntil('-', nurse.said.getByText(`volume ${level} of 5`));
    await nurse.pressUntil('-', nurse.said.getByText('volume 1 of 5, the lowest: it is never silent'));
    await nurse.press('-');
    await expectShown(foot(first)).toContainText('volume 1 of 5');
    await expectShown(foot(second)).toContainText('volume 1 of 5');
    await first.reload();
    await first.keyboard.press('Shift');
    await expectShown(foot(first)).toContainText('volume 1 of 5', SOON);
    await nurse.pressUntil('+', nurse.said.getByText('volume 2 of 5'));
  });

  test('that are two pages of one browser sound each cue once, and the other goes on where one is closed', async () => {
    for (const page of [first, second])
      await page.evaluate(() => document.documentElement.removeAttribute('data-asked'));
    const sessionId = await sessionBefore(first, 'begin-flush');
    const outcomes = () =>
      entriesIn(screens.carrier().ledgerFile).filter(
        (entry) => entry.kind === 'cue-sounded' && entry.sessionId === sessionId && entry.payload.outcome === 'sounded',
      );
    await expect.poll(() => outcomes().length, SOON).toBeGreaterThan(0);
    const asked = await Promise.all([first, second].map(soundsAsked));
    expect(asked.filter((count) => count > 0)).toHaveLength(1);
    const [sounding, other] = (asked[0] ?? 0) > 0 ? [first, second] : [second, first];
    await sounding.close();
    await sessionBefore(other, 'begin-flush');
    await expect.poll(() => soundsAsked(other), SOON).toBeGreaterThan(0);
  });
});

/** A machine with a loudspeaker, and a count of the sounds that the page asks of it. Runs in the page. */
function pretendDevice(): void {
  navigator.mediaDevices.enumerateDevices = async () => [{ kind: 'audiooutput' } as MediaDeviceInfo];
  const { start } = AudioBufferSourceNode.prototype;
  AudioBufferSourceNode.prototype.start = function counted(...when): void {
    document.documentElement.dataset.asked = String(Number(document.documentElement.dataset.asked ?? 0) + 1);
    start.apply(this, when);
  };
}

const soundsAsked = (page: Page): Promise<number> =>
  page.evaluate(() => Number(document.documentElement.dataset.asked ?? 0));
