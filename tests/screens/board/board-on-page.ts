import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { type Browser, chromium, type Page } from 'playwright';
import { afterAll, beforeAll } from 'vitest';
import type { Language } from '../../../core/settings/language.ts';
import type { ShownFace } from './board-page.tsx';

const ROOT = resolve(import.meta.dirname, '../../..');
const { presentChromium }: { presentChromium: () => string | null } = await import(join(ROOT, 'build/chromium.mjs'));

/** The Chromium that is here; null where there is none, and nothing that needs one can run. */
export const CHROMIUM = presentChromium();

/** Nothing is served there: what the page asks for is answered from memory. */
const ADDRESS = 'http://board.invalid/';
const PAGE = `<!doctype html><html lang="en"><head><title>board</title><link rel="stylesheet" href="board-page.css"></head>
  <body><div id="screen"></div><script type="module" src="board-page.js"></script></body></html>`;

export type Dim = 1 | 2 | 3;

export interface BoardMonitor {
  readonly width: number;
  readonly height: number;
  readonly deviceScaleFactor?: number;
  readonly reducedMotion?: 'reduce' | 'no-preference';
}

/** For the tests of a file: a browser, and boards of any size on it that show what they are given. */
export function boards() {
  let browser: Browser;
  let files: Map<string, Buffer>;
  const errors: string[] = [];
  beforeAll(async () => {
    [browser, files] = await Promise.all([openChromium(), boardBundle()]);
  });
  afterAll(() => browser?.close());
  return {
    /** What the pages reported as errors. */
    errors,
    open: (monitor: BoardMonitor): Promise<Page> => openBoard(browser, files, errors, monitor),
  };
}

export async function openBoard(
  browser: Browser,
  files: ReadonlyMap<string, Buffer>,
  errors: string[],
  { width, height, deviceScaleFactor = 1, reducedMotion = 'no-preference' }: BoardMonitor,
): Promise<Page> {
  const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor, reducedMotion });
  const page = await context.newPage();
  page.on('pageerror', (error) => errors.push(String(error)));
  await page.route('**/*', async (route) => {
    const name = new URL(route.request().url()).pathname.slice(1);
    const contentType = name.endsWith('.js') ? 'text/javascript' : name.endsWith('.css') ? 'text/css' : 'text/html';
    const body = name === '' ? PAGE : files.get(name);
    await (body === undefined ? route.fulfill({ status: 404 }) : route.fulfill({ contentType, body }));
  });
  await page.goto(ADDRESS);
  await page.waitForFunction(() => 'showBoard' in window);
  return page;
}

/** Shows a face, and waits until it is drawn with its own font and its sizes have settled. */
export async function show(page: Page, face: ShownFace, dim: Dim = 1, language: Language = 'en'): Promise<void> {
  await page.evaluate(
    async ([shown, level, spoken]) => {
      document.documentElement.dataset.dim = String(level);
      await document.fonts.load('16px B612');
      window.showBoard(shown, spoken);
      const frame = () => new Promise((drawn) => requestAnimationFrame(drawn));
      for (let count = 0; count < 3; count += 1) await frame();
    },
    [face, dim, language] as const,
  );
}

export function openChromium(): Promise<Browser> {
  const args = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  return chromium.launch({ args, ...(CHROMIUM === null ? {} : { executablePath: CHROMIUM }) });
}

/** The board's face alone, bundled for a browser: each file by its name. */
export async function boardBundle(): Promise<Map<string, Buffer>> {
  const { outputFiles } = await build({
    absWorkingDir: ROOT,
    entryPoints: ['tests/screens/board/board-page.tsx'],
    outdir: '/',
    bundle: true,
    write: false,
    format: 'esm',
    jsx: 'automatic',
    loader: { '.woff2': 'file' },
    define: { 'process.env.NODE_ENV': '"production"' },
    logLevel: 'error',
  });
  return new Map(outputFiles.map(({ path, contents }) => [path.slice(1), Buffer.from(contents)]));
}
