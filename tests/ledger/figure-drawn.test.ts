import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  FIGURE_ON_PAPER,
  type FigureLook,
  figureOf,
  figureSentences,
  figureSvg,
  type SessionFigure,
} from '../../core/ledger/figure.ts';
import { type Happening, live } from '../deviations/lived-session.ts';
import { seeded } from '../deviations/seeded-session.ts';
import { OPENED_AT_MS, stepsBefore } from '../session-steps.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const { presentChromium }: { presentChromium: () => string | null } = await import(join(ROOT, 'build/chromium.mjs'));
const CHROMIUM = presentChromium();

const FONT = readFileSync(join(ROOT, 'node_modules/@fontsource/b612/files/b612-latin-400-normal.woff2')).toString(
  'base64',
);
const STYLE = `@font-face { font-family: B612; src: url(data:font/woff2;base64,${FONT}) } body { margin: 0 }`;

const steps = stepsBefore('begin-flush').map(({ atMs, by, command }): Happening => ({ atMs, by, command }));
const stopped = live([
  ...steps,
  { atMs: OPENED_AT_MS + 700_000, command: { kind: 'hold', reason: 'extravasation' } },
  {
    atMs: OPENED_AT_MS + 760_000,
    command: { kind: 'stop-early', reason: '</text><script>"&\u0007 the patient ‹faints›' },
  },
]);
const crowded = seeded({
  lightMs: 30_000,
  secondEyeMs: 95_000,
  heldMs: 45_000,
  infusionMs: -20_000,
  flushMs: 20_000,
  exposureMs: -30_000,
  pressedLateS: 8,
  sleptMs: 20_000,
  rebasedByMs: 5000,
  clockStepMs: 7000,
  zoneMin: -60,
  cues: (cue) => {
    if (cue === 'infusion-end') return { outcome: 'late', lateMs: 9000 };
    if (cue === 'flush-end') return { outcome: 'silent', lateMs: 0 };
    return cue === 'exposure-end' ? null : { outcome: 'sounded', lateMs: 0 };
  },
});

const FIGURES: [string, SessionFigure][] = [
  ['as planned', figureOf(seeded().measures)],
  ['with everything', figureOf(crowded.measures)],
  ['stopped early', figureOf(stopped.measures)],
  ['never begun', figureOf(live(steps.slice(0, 4)).measures)],
];

interface Box {
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly right: number;
  readonly bottom: number;
}

describe.skipIf(CHROMIUM === null)('the figure in a browser', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: CHROMIUM ?? '', args: ['--no-sandbox'] });
    page = await browser.newPage();
  });
  afterAll(() => browser?.close());

  async function drawn(
    figure: SessionFigure,
    look: Partial<FigureLook>,
  ): Promise<{ texts: Box[]; width: number; height: number }> {
    const svg = figureSvg(figure, { ...FIGURE_ON_PAPER, ...look });
    await page.setContent(`<style>${STYLE}</style>${svg}`);
    return page.evaluate(async () => {
      await document.fonts.load('12px B612');
      const root = document.querySelector('svg');
      if (root === null) throw new Error('nothing is drawn');
      const texts = [...root.querySelectorAll('text')].map((one) => {
        const { x, y, width, height } = one.getBBox();
        return { words: one.textContent ?? '', x, y, right: x + width, bottom: y + height };
      });
      const { width, height } = root.viewBox.baseVal;
      return { texts, width, height };
    });
  }

  const LOOKS: [string, Partial<FigureLook>][] = [
    ['in the face of the screens', {}],
    ['in whatever face there is', { face: 'sans-serif' }],
    ['narrow', { width: 440 }],
    ['wide', { width: 1200 }],
  ];

  test.each(FIGURES.flatMap(([name, figure]) => LOOKS.map(([how, look]) => [name, how, figure, look] as const)))(
    '%s, %s: no words lie on others, and none leave the drawing',
    async (_name, _how, figure, look) => {
      const { texts, width, height } = await drawn(figure, look);
      expect(texts.length).toBeGreaterThan(2);
      const onOthers = texts.flatMap((one, index) =>
        texts
          .slice(index + 1)
          .filter((other) => apart(one, other) < 0)
          .map((other) => [one.words, other.words]),
      );
      expect(onOthers).toEqual([]);
      expect(texts.filter(({ x, y, right, bottom }) => x < 0 || y < 0 || right > width || bottom > height)).toEqual([]);
    },
  );

  test.each(FIGURES)('%s: is well-formed XML, whatever people wrote, and carries its words', async (_name, figure) => {
    const parsed = await page.evaluate(
      (text) => {
        const document = new DOMParser().parseFromString(text, 'image/svg+xml');
        return {
          fault: document.querySelector('parsererror')?.textContent ?? null,
          scripts: document.querySelectorAll('script').length,
          says: document.querySelector('desc')?.textContent ?? '',
        };
      },
      figureSvg(figure, FIGURE_ON_PAPER),
    );
    expect(parsed).toEqual({ fault: null, scripts: 0, says: figureSentences(figure).join(' ').replace('\u0007', '') });
  });
});

/** How far two boxes are apart; negative where they lie on each other by more than the leading of a line. */
function apart(one: Box, other: Box): number {
  const across = Math.max(other.x - one.right, one.x - other.right);
  const down = Math.max(other.y - one.bottom, one.y - other.bottom);
  return Math.max(across, down + LEADING);
}

/** A text's box has room for the tallest letters of the face, above and below what is written. */
const LEADING = 4;
