import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { boards, CHROMIUM, show } from './board-on-page.ts';
import { SCENES, sceneOf } from './scenes.ts';

/** For a busy machine. */
const MANY_FACES_MS = 300_000;

/** What flashes more often than three times a second may harm (WCAG 2.2, success criterion 2.3.1). */
const MOST_FLASHES_PER_S = 3;

describe.skipIf(CHROMIUM === null)('the board is calm', () => {
  const screens = boards();

  test.each(['no-preference', 'reduce'] as const)(
    'nothing on it blinks or glows (reduced motion: %s)',
    async (reducedMotion) => {
      const page = await screens.open({ width: 1280, height: 720, reducedMotion });
      for (const { name, face } of SCENES) {
        await show(page, { ...face, cue: 'light window in 1 min' });
        expect.soft(await moving(page), name).toEqual([]);
      }
      await page.context().close();
    },
    MANY_FACES_MS,
  );

  test.each(['infusing', 'flushing', 'light on', 'light on, two eyes', 'ordered light given', 'window open'])(
    'no sign on it changes more than three times in a second: %s',
    async (name) => {
      const page = await screens.open({ width: 1280, height: 720 });
      const { face } = sceneOf(name);
      const changes = new Map<string, number>();
      let before: Record<string, string> | null = null;
      for (let atMs = 0; atMs < 2000; atMs += 50) {
        await show(page, { ...face, nowMs: face.nowMs + atMs });
        const after = await written(page);
        for (const [place, words] of Object.entries(after)) {
          if (before !== null && before[place] !== words) changes.set(place, (changes.get(place) ?? 0) + 1);
        }
        before = after;
      }
      expect([...changes].filter(([, times]) => times > 2 * MOST_FLASHES_PER_S)).toEqual([]);
      expect(changes.size).toBeGreaterThan(0);
      await page.context().close();
    },
    MANY_FACES_MS,
  );

  test('counts are timers to a screen reader, and are not told off second by second', async () => {
    const page = await screens.open({ width: 1280, height: 720 });
    await show(page, { ...sceneOf('light on, two eyes').face, cue: 'light at its end' });
    const timers = page.getByRole('timer');
    expect(await timers.evaluateAll((all) => all.map((one) => [one.ariaLabel, one.ariaLive]))).toEqual([
      ['47 s', 'off'],
      ['4 min 24 s', 'off'],
    ]);
    const telling = page.locator('[aria-live]:not([aria-live="off"]), [role="alert"], [role="status"], [role="log"]');
    expect(await telling.allTextContents()).toEqual(['light at its end']);
    expect(await page.getByRole('img').getAttribute('aria-label')).toContain('light window open');
    await page.context().close();
  });
});

/** Animations under way, but for the one that takes a cue away after its time. */
const moving = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    document
      .getAnimations()
      .map((one) => (one instanceof CSSAnimation ? one.animationName : one.constructor.name))
      .filter((name) => name !== 'cue-line-go'),
  );

/** The words of every part of the board, by its place among the others. */
const written = (page: Page): Promise<Record<string, string>> =>
  page.evaluate(() => {
    const parts = [...document.querySelectorAll('.board p, .board text, .big-count-digit')];
    return Object.fromEntries(parts.map((part, at) => [`${at} ${part.className}`, part.textContent ?? '']));
  });
