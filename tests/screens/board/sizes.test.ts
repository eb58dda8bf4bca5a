import type { Page } from 'playwright';
import { afterAll, describe, expect, test } from 'vitest';
import { digitSize } from '../../../core/legibility/digit-size.ts';
import { LEAST_ARC_MIN } from '../../../core/legibility/least-size.ts';
import { arcMinutes } from '../../../core/legibility/visual-angle.ts';
import { boards, CHROMIUM, show } from './board-on-page.ts';
import type { ShownFace } from './board-page.tsx';
import { sceneOf } from './scenes.ts';

/** A monitor of the width that a common 23-inch one has; upright, its narrower side. */
const WIDE_MM = 520;
const UPRIGHT_MM = 292;
const DISTANCE_M = 3;

const MONITORS = [
  { width: 1280, height: 800, wideMm: WIDE_MM, deviceScaleFactor: 1 },
  { width: 1920, height: 1080, wideMm: WIDE_MM, deviceScaleFactor: 1 },
  { width: 1280, height: 720, wideMm: WIDE_MM, deviceScaleFactor: 1.5 },
  { width: 3840, height: 2160, wideMm: WIDE_MM, deviceScaleFactor: 1 },
  { width: 1080, height: 1920, wideMm: UPRIGHT_MM, deviceScaleFactor: 1 },
];

const NUMBERS = [
  { scene: 'infusing', main: '12:37' },
  { scene: 'window long open', main: '+20:08' },
  { scene: 'light on, two eyes', main: '47 s' },
  { scene: 'everything wrong', main: '8:20' },
] as const;

describe.skipIf(CHROMIUM === null)('how large the board writes', () => {
  const screens = boards();
  const rows = [`digits on a monitor ${WIDE_MM} mm wide (upright ${UPRIGHT_MM} mm), from ${DISTANCE_M} m:`];
  afterAll(() => console.info(rows.join('\n')));

  test.each(MONITORS)('read from 3 m on $width by $height at $deviceScaleFactor', async ({ wideMm, ...monitor }) => {
    const page = await screens.open(monitor);
    for (const { scene, main } of NUMBERS) {
      await show(page, placed(sceneOf(scene).face, { boardWidthMm: wideMm, viewingDistanceM: DISTANCE_M }));
      const line = [`${monitor.width} x ${monitor.height} @${monitor.deviceScaleFactor}`, main];
      for (const [name, selector, least] of WRITTEN) {
        const heightPx = await inkHeightPx(page, selector);
        if (heightPx === null) continue;
        const heightMm = (heightPx * wideMm) / monitor.width;
        const arcMin = arcMinutes(heightMm, DISTANCE_M);
        line.push(`${name} ${heightPx.toFixed(0)} px ${heightMm.toFixed(1)} mm ${arcMin.toFixed(1)}'`);
        expect.soft(arcMin, `${name}, ${scene}`).toBeGreaterThanOrEqual(least);
      }
      rows.push(line.join(' | '));
      await expect.soft(page.getByText('too small').count()).resolves.toBe(0);
    }
    await page.context().close();
  });

  test('the height that is reckoned with is the height of the ink', async () => {
    const page = await screens.open({ width: 1920, height: 1080 });
    await show(page, sceneOf('infusing').face);
    const fontPx = await page
      .locator('.board-fitted')
      .evaluate((place) => Number.parseFloat(getComputedStyle(place).fontSize));
    const { heightPx } = digitSize(fontPx, { pictureWidthPx: 1920, pictureWidthMm: null, distanceM: 3 });
    // The 7 has a flat top and foot.
    expect(await inkHeightPx(page, MAIN_DIGIT)).toBeCloseTo(heightPx, -1);
    await page.context().close();
  });

  test('a monitor on which the number is too small for its distance says so, and up to where it can be read', async () => {
    const page = await screens.open({ width: 1280, height: 720 });
    const tooFar = { boardWidthMm: 150, viewingDistanceM: 8 };
    await show(page, placed(sceneOf('infusing').face, tooFar));
    const words = await page.locator('.board-notice').allTextContents();
    expect(words).toEqual([expect.stringMatching(/^number too small for 8 m: read it from no farther than \d\.\d m$/)]);
    await show(page, placed(sceneOf('infusing').face, { ...tooFar, viewingDistanceM: 3 }));
    expect(await page.locator('.board-notice').count()).toBe(0);
    await page.context().close();
  });

  test('without a measured width the board claims no size, and asks for the measure while nothing is counted', async () => {
    const page = await screens.open({ width: 1280, height: 720 });
    const notMeasured = { boardWidthMm: null, viewingDistanceM: 3 };
    const asked = "size not measured: set the board's width";
    for (const [scene, count] of [
      ['no session', 1],
      ['planned', 1],
      ['infusing', 0],
      ['after-care', 1],
    ] as const) {
      await show(page, placed(sceneOf(scene).face, notMeasured));
      expect(await page.getByText(asked).count(), scene).toBe(count);
    }
    await page.context().close();
  });
});

const MAIN_DIGIT = '.board-fitted .big-count-digit >> nth=-1';
const { mainNumber, secondNumber } = LEAST_ARC_MIN;

/** What is measured: a digit of each number, and the least that it may take at the eye. */
const WRITTEN: readonly (readonly [string, string, number])[] = [
  ['main', MAIN_DIGIT, mainNumber],
  ['second', '.board-second .big-count-digit >> nth=0', secondNumber],
  ['J/cm²', '.board-given', secondNumber],
];

const placed = (face: ShownFace, where: NonNullable<ShownFace['placed']>): ShownFace => ({ ...face, placed: where });

/** Height of the ink of a 7 in the font of a number, CSS pixels; null where there is no such number on the board. */
async function inkHeightPx(page: Page, selector: string): Promise<number | null> {
  const place = page.locator(selector).first();
  if ((await place.count()) === 0) return null;
  return place.evaluate((element) => {
    const { fontSize, fontFamily } = getComputedStyle(element);
    const pen = new OffscreenCanvas(1, 1).getContext('2d');
    if (pen === null) throw new Error('the page has no canvas');
    pen.font = `${fontSize} ${fontFamily}`;
    const { actualBoundingBoxAscent } = pen.measureText('7');
    return actualBoundingBoxAscent;
  });
}
