import type { Page } from 'playwright';
import { beforeAll, describe, expect, test } from 'vitest';
import { DIGIT_HEIGHT_EM } from '../../../core/legibility/digit-size.ts';
import { boards, CHROMIUM, show } from './board-on-page.ts';
import { sceneOf } from './scenes.ts';

interface Digit {
  readonly digit: string;
  /** In font sizes: advance, and the height of its ink over the line it stands on. */
  readonly advanceEm: number;
  readonly heightEm: number;
  /** Whether each pixel of a cell is inked. */
  readonly ink: readonly boolean[];
}

/**
 * Of the ink of two digits, the share that only one of them has. What is asked for is ours, no source: a 3 and an 8 of a
 * common grotesque have 0.26.
 */
const LEAST_APART = 0.35;

describe.skipIf(CHROMIUM === null)('the digits as the browser draws them', () => {
  const screens = boards();
  let digits: Digit[];
  beforeAll(async () => {
    const page = await screens.open({ width: 1280, height: 800 });
    await show(page, sceneOf('infusing').face);
    digits = await drawnDigits(page);
  });

  test('are in the font that is shipped, and as high as is reckoned with', () => {
    for (const { digit, heightEm } of digits) {
      // Round digits reach a little further, and the drawing is of whole pixels.
      expect(heightEm, digit).toBeGreaterThanOrEqual(DIGIT_HEIGHT_EM - 0.005);
      expect(heightEm, digit).toBeLessThanOrEqual(DIGIT_HEIGHT_EM + 0.025);
    }
  });

  test('have one width', () => {
    expect(new Set(digits.map(({ advanceEm }) => advanceEm.toFixed(4)))).toEqual(new Set(['0.6500']));
  });

  test.each([
    ['1', '7'],
    ['3', '8'],
    ['6', '0'],
    ['8', '0'],
    ['5', '6'],
    ['9', '8'],
  ])('%s is not taken for %s', (one, other) => {
    expect(apart(inkOf(digits, one), inkOf(digits, other))).toBeGreaterThan(LEAST_APART);
  });

  test('no two are closer to each other than those', () => {
    const pairs = digits.flatMap((one, index) =>
      digits.slice(index + 1).map((other) => ({ pair: one.digit + other.digit, share: apart(one.ink, other.ink) })),
    );
    pairs.sort((one, other) => one.share - other.share);
    const closest = pairs.slice(0, 5).map(({ pair, share }) => `${pair} ${share.toFixed(2)}`);
    console.info(`closest pairs: ${closest.join(', ')}`);
    expect(pairs.filter(({ share }) => share <= LEAST_APART)).toEqual([]);
    expect(pairs).toHaveLength(45);
  });
});

const inkOf = (digits: readonly Digit[], wanted: string): readonly boolean[] =>
  digits.find(({ digit }) => digit === wanted)?.ink ?? [];

function apart(one: readonly boolean[], other: readonly boolean[]): number {
  const inEither = one.filter((inked, at) => inked || other[at]).length;
  const inOne = one.filter((inked, at) => inked !== other[at]).length;
  return inOne / inEither;
}

/** Each digit in a cell of the board's number font. */
const drawnDigits = (page: Page): Promise<Digit[]> =>
  page.evaluate(() => {
    const face = getComputedStyle(document.querySelector('.board-fitted') ?? document.body).fontFamily;
    const EM = 200;
    return [...'0123456789'].map((digit) => {
      const pen = new OffscreenCanvas(EM, EM).getContext('2d');
      if (pen === null) throw new Error('the page has no canvas');
      pen.font = `${EM}px ${face}`;
      pen.fillText(digit, 0, EM * 0.9);
      const { data } = pen.getImageData(0, 0, EM, EM);
      const ink = Array.from({ length: EM * EM }, (_, at) => (data[at * 4 + 3] ?? 0) > 127);
      const rows = ink.flatMap((inked, at) => (inked ? [Math.floor(at / EM)] : []));
      const heightEm = (Math.max(...rows) - Math.min(...rows) + 1) / EM;
      return { digit, advanceEm: pen.measureText(digit).width / EM, heightEm, ink };
    });
  });
