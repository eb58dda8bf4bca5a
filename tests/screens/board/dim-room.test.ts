import type { Page } from 'playwright';
import { afterAll, describe, expect, test } from 'vitest';
import { boards, CHROMIUM, type Dim, show } from './board-on-page.ts';
import { contrast, type Picture, picture } from './pixels.ts';
import { SCENES, type Scene, sceneOf } from './scenes.ts';

/** The most light that a board may throw into the room at each level, as a share of a white screen's. Ours, no source. */
const MOST_LUMINANCE: Partial<Record<Dim, number>> = { 1: 0.12, 3: 0.025 };

/**
 * Contrast of the main number. 4.5: WCAG 2.2, success criterion 1.4.3. 7: preferred for night displays on a ship's
 * bridge, between 3 and 15 (MSC/Circ.982; the circular from memory, the figures from a copy).
 */
const LEAST_CONTRAST: Record<Dim, number> = { 1: 7, 2: 7, 3: 4.5 };

/** Where a number takes most of the picture: the widest, and the shapes of monitors on which it is largest. */
const BRIGHTEST = ['infusion held', 'window open', 'window long open', 'infusion held over its time'];
const SHAPES = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 1280, height: 1024 },
  { width: 720, height: 1280 },
  { width: 1290, height: 540 },
];

const VISIONS = ['none', 'protanopia', 'deuteranopia', 'tritanopia', 'achromatopsia'] as const;

/** For a busy machine. */
const MANY_PICTURES_MS = 300_000;

describe.skipIf(CHROMIUM === null)('in a dim room', () => {
  const screens = boards();
  const measured: string[] = [];
  afterAll(() => console.info(['mean luminance, % of white:', ...measured].join('\n')));

  test.each([1, 3] as const)(
    'at level %i every state throws little light, and none of it is red',
    async (dim) => {
      const page = await screens.open({ width: 1280, height: 720 });
      const pictures: [Scene, Picture][] = [];
      for (const scene of SCENES) {
        await show(page, scene.face, dim);
        pictures.push([scene, await picture(page)]);
      }
      measured.push(`level ${dim}: ${spread(pictures.map(([, { meanLuminance }]) => meanLuminance))}`);
      for (const [{ name }, { meanLuminance, red }] of pictures) {
        expect.soft(meanLuminance, `${name}, level ${dim}`).toBeLessThanOrEqual(MOST_LUMINANCE[dim] ?? 0);
        expect.soft(red, `red pixels, ${name}, level ${dim}`).toBe(0);
      }
      await page.context().close();
    },
    MANY_PICTURES_MS,
  );

  test.each(SHAPES)('also where the number is largest on $width by $height', async (shape) => {
    const page = await screens.open(shape);
    const shares: number[] = [];
    for (const name of BRIGHTEST) {
      await show(page, sceneOf(name).face, 3);
      shares.push((await picture(page)).meanLuminance);
    }
    measured.push(`level 3, ${shape.width} by ${shape.height}: ${spread(shares)}`);
    expect(Math.max(...shares)).toBeLessThanOrEqual(MOST_LUMINANCE[3] ?? 0);
    await page.context().close();
  });

  /** What the colours look like to each kind of colour vision, by Chromium's own emulation. */
  test.each(VISIONS)(
    'number, words and window stand out to an eye with colour vision deficiency: %s',
    async (vision) => {
      const page = await screens.open({ width: 1280, height: 720 });
      const emulation = await page.context().newCDPSession(page);
      await emulation.send('Emulation.setEmulatedVisionDeficiency', { type: vision });
      for (const dim of [1, 2, 3] as const) {
        await show(page, sceneOf('window open').face, dim);
        const seen = `${vision}, level ${dim}`;
        expect
          .soft(await contrastOf(page, '.board-fitted .big-count-digit'), seen)
          .toBeGreaterThanOrEqual(LEAST_CONTRAST[dim]);
        for (const part of [
          '.board-words p',
          '.board-title',
          '.board-next',
          '.day-arc .light-window',
          '.day-arc text',
        ]) {
          expect.soft(await contrastOf(page, part), `${part}, ${seen}`).toBeGreaterThanOrEqual(3);
        }
      }
      await page.context().close();
    },
  );
});

async function contrastOf(page: Page, selector: string): Promise<number> {
  const place = await page.locator(selector).first().boundingBox();
  if (place === null) throw new Error(`"${selector}" is not on the board`);
  return contrast(await picture(page, place));
}

function spread(shares: readonly number[]): string {
  const sorted = shares.map((share) => share * 100).sort((one, other) => one - other);
  const at = (fraction: number): string => (sorted[Math.floor((sorted.length - 1) * fraction)] ?? 0).toFixed(2);
  return `median ${at(0.5)}, 95th percentile ${at(0.95)}, most ${at(1)} (${shares.length} states)`;
}
