import { describe, expect, test } from 'vitest';
import { boards, CHROMIUM, show } from './board-on-page.ts';
import { arcPoints, type DrawnBox, drawnBoxes } from './drawn-boxes.ts';
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
        wrong.push(...boxes.filter((box) => !inside(box, monitor)).map(({ what }) => `${name}: "${what}" runs out`));
        wrong.push(...overlaps(boxes).map((pair) => `${name}: ${pair}`));
        const points = await arcPoints(page);
        const crossed = boxes.filter(
          (box) => !SHAPES_ON_ARC.test(box.what) && points.some((point) => within(point, box)),
        );
        wrong.push(...crossed.map(({ what }) => `${name}: the arc runs through "${what}"`));
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

const SHAPES_ON_ARC = /day-arc-now/;

/** Half a pixel is rounding. */
const LEAST_PX = 0.5;

const inside = (
  { left, top, right, bottom }: DrawnBox,
  { width, height }: { width: number; height: number },
): boolean => left >= -LEAST_PX && top >= -LEAST_PX && right <= width + LEAST_PX && bottom <= height + LEAST_PX;

const within = ({ x, y }: { x: number; y: number }, { left, top, right, bottom }: DrawnBox): boolean =>
  x > left && x < right && y > top && y < bottom;

function overlaps(boxes: readonly DrawnBox[]): string[] {
  return boxes.flatMap((one, index) =>
    boxes
      .slice(index + 1)
      .filter((other) => across(one, other) > LEAST_PX && upright(one, other) > LEAST_PX)
      .map((other) => `"${one.what}" lies on "${other.what}"`),
  );
}

const across = (one: DrawnBox, other: DrawnBox): number =>
  Math.min(one.right, other.right) - Math.max(one.left, other.left);
const upright = (one: DrawnBox, other: DrawnBox): number =>
  Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
