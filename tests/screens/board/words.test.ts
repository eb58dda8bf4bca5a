import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { boards, CHROMIUM, show } from './board-on-page.ts';
import { sceneOf } from './scenes.ts';

/** What is told by a colour is told by words or a shape as well. */
const SAID: readonly (readonly [string, { number: string; words: string }])[] = [
  ['infusing', { number: '12:37', words: 'to the light window' }],
  ['window in a few seconds', { number: '0:06', words: 'to the light window' }],
  ['window open', { number: '+0:08', words: 'light window is open: light is due' }],
  ['window long open', { number: '+20:08', words: 'light window is open: light overdue' }],
  ['second eye next', { number: '3:10', words: 'second eye to begin within' }],
  ['too late for the second eye', { number: '+2:00', words: 'too late to begin the second eye' }],
  ['light on', { number: '47s', words: 'light left · 21.6 of 50 J/cm²' }],
  ['light held', { number: '47s', words: 'light left · 21.6 of 50 J/cm²' }],
  ['ordered light given', { number: '+18s', words: 'ordered light given: is the beam off? · 49.8 of 50 J/cm²' }],
];

describe.skipIf(CHROMIUM === null)('the board says in words', () => {
  const screens = boards();

  test('what its number counts to, and once it is past zero what is due', async () => {
    const page = await screens.open({ width: 1280, height: 720 });
    for (const [name, said] of SAID) {
      await show(page, sceneOf(name).face);
      expect.soft({ number: await numberOf(page), words: await wordsOf(page, '.board-words p') }, name).toEqual(said);
    }
    await page.context().close();
  });

  test('light is due from the window on, and overdue once the limit of the site is passed', async () => {
    const page = await screens.open({ width: 1280, height: 720 });
    const { face } = sceneOf('window open');
    const openedAtMs = face.nowMs - 8000;
    for (const [afterS, words] of [
      [0, 'to the light window'],
      [1, 'light window is open: light is due'],
      [30, 'light window is open: light is due'],
      [31, 'light window is open: light overdue'],
    ] as const) {
      await show(page, { ...face, nowMs: openedAtMs + afterS * 1000 });
      expect(await wordsOf(page, '.board-words p'), `${afterS} s after it opened`).toBe(words);
    }
    await page.context().close();
  });

  test('the light given, in steps of half a second, and all of it at the end', async () => {
    const page = await screens.open({ width: 1280, height: 720 });
    const { face } = sceneOf('light on');
    const onAtMs = face.nowMs - 36_000;
    const given = async (afterMs: number) => {
      await show(page, { ...face, nowMs: onAtMs + afterMs });
      return wordsOf(page, '.board-given');
    };
    expect(await given(0)).toBe('0.0 of 50 J/cm²');
    expect(await given(10_000)).toBe('6.0 of 50 J/cm²');
    expect(await given(10_499)).toBe('6.0 of 50 J/cm²');
    expect(await given(10_500)).toBe('6.3 of 50 J/cm²');
    expect(await given(83_000)).toBe('49.8 of 50 J/cm²');
    await page.context().close();
  });

  test('the one window is drawn once, an outline until it opens and filled from then on', async () => {
    const page = await screens.open({ width: 1280, height: 720 });
    for (const [name, lit] of [
      ['infusing', 0],
      ['waiting', 0],
      ['window open', 1],
      ['light on', 1],
      ['light held', 1],
    ] as const) {
      await show(page, sceneOf(name).face);
      expect(await page.locator('.light-window').count(), name).toBe(1);
      expect(await page.locator('.light-window-lit').count(), name).toBe(lit);
    }
    await page.context().close();
  });

  test('where the ends of infusion and flush, the window and the last moment for a second eye lie', async () => {
    const page = await screens.open({ width: 1920, height: 1080 });
    const marks = async (name: string) => {
      await show(page, sceneOf(name).face);
      return (await page.locator('.day-arc text').allTextContents()).sort();
    };
    const ends = ['20 min', 'T0', 'flush ends', 'infusion ends', 'light window'].sort();
    expect(await marks('planned')).toEqual(ends);
    expect(await marks('infusing')).toEqual(ends);
    expect(await marks('infusing, two eyes')).toEqual([...ends, 'second eye by'].sort());
    expect(await marks('light on, two eyes')).toEqual(
      ['20 min', 'T0', 'flush ended', 'infusion ended', 'light window', 'second eye by'].sort(),
    );
    expect(await marks('no session')).toEqual([]);
    await page.context().close();
  });

  test('what does not fit is counted: no more than three notices stand', async () => {
    const page = await screens.open({ width: 1920, height: 1080 });
    await show(page, sceneOf('everything wrong').face);
    const notices = await page.locator('.board-notice').allTextContents();
    expect(notices).toHaveLength(3);
    expect(notices[0]).toMatch(/^the station does not answer/);
    expect(notices[2]).toMatch(/ · 2 more on the console$/);
    await page.context().close();
  });
});

const wordsOf = async (page: Page, selector: string): Promise<string> =>
  ((await page.locator(selector).first().textContent()) ?? '').replace(/\s+/g, ' ').trim();

/** The main number as it is drawn: the colon and the plus are shapes. */
const numberOf = (page: Page): Promise<string> =>
  page
    .locator('.board-fitted .big-count > *')
    .evaluateAll((signs) =>
      signs
        .map((sign) =>
          sign.matches('.big-count-colon') ? ':' : sign.matches('.big-count-plus') ? '+' : (sign.textContent ?? ''),
        )
        .join(''),
    );
