import { describe, expect, test } from 'vitest';
import { boards, CHROMIUM, show } from './board-on-page.ts';
import { arcPoints, drawnBoxes } from './drawn-boxes.ts';
import { faultsOfBoxes } from './drawn-faults.ts';
import { SCENES, sceneOf } from './scenes.ts';

const MONITORS = [
  { width: 1280, height: 800, deviceScaleFactor: 1 },
  { width: 1366, height: 768, deviceScaleFactor: 1.25 },
  { width: 1920, height: 1080, deviceScaleFactor: 1 },
  { width: 1280, height: 1024, deviceScaleFactor: 1 },
  { width: 2560, height: 1080, deviceScaleFactor: 1 },
  { width: 1920, height: 1080, deviceScaleFactor: 2 },
  { width: 3840, height: 2160, deviceScaleFactor: 1 },
  { width: 1080, height: 1920, deviceScaleFactor: 1 },
  { width: 800, height: 1280, deviceScaleFactor: 1.5 },
];

/** For a busy machine. */
const MANY_FACES_MS = 300_000;

describe.skipIf(CHROMIUM === null)('whatever there is to say', () => {
  const screens = boards();

  test.each(MONITORS)(
    'it has room on $width by $height at $deviceScaleFactor',
    async (monitor) => {
      const page = await screens.open(monitor);
      const wrong: string[] = [];
      for (const { name, face } of SCENES) {
        await show(page, face);
        const boxes = await drawnBoxes(page);
        expect(boxes.length, name).toBeGreaterThan(1);
        const faults = faultsOfBoxes(boxes, await arcPoints(page), monitor);
        wrong.push(...faults.map((fault) => `${name}: ${fault}`));
      }
      expect(wrong).toEqual([]);
      expect(screens.errors).toEqual([]);
      await page.context().close();
    },
    MANY_FACES_MS,
  );

  test('the number keeps its size when a cue or one notice comes and goes', async () => {
    const page = await screens.open({ width: 1920, height: 1080 });
    const heights = [];
    const silent = sceneOf('station silent').face;
    for (const face of [sceneOf('infusing').face, silent, { ...silent, cue: 'light window in 2 min' }]) {
      await show(page, face);
      heights.push(await page.locator('.board-fitted').evaluate((place) => getComputedStyle(place).fontSize));
    }
    expect(new Set(heights).size).toBe(1);
  });

  test('the number changes its digits and stays where it is', async () => {
    const page = await screens.open({ width: 1920, height: 1080 });
    const { face } = sceneOf('infusing');
    const places = new Set<string>();
    const shown = new Set<string>();
    for (let second = 0; second < 12; second += 1) {
      await show(page, { ...face, nowMs: face.nowMs + second * 1000 });
      const cells = page.locator('.board-fitted .big-count-digit');
      places.add(
        JSON.stringify(await cells.evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()))),
      );
      shown.add((await cells.allTextContents()).join(''));
    }
    expect(shown.size).toBe(12);
    expect(places.size).toBe(1);
  });
});
