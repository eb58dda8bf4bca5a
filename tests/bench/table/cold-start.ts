import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { desktop, HAS_DESKTOP } from '../../desktop/desktop.ts';
import { browserCarrier, CHROMIUM, openChromium } from '../../screens/browser-carrier.ts';
import { type Lacking, type Row, rowOf } from './row.ts';

const TIMES = 7;

/** From the start of the program to a console that shows what the station says, each time on a new ledger. */
export async function coldStart(): Promise<(Row | Lacking)[]> {
  return [await inBrowser(), await onDesktop()];
}

async function inBrowser(): Promise<Row | Lacking> {
  const what = 'cold start to a usable console, browser';
  if (CHROMIUM === null) return { what, why: 'no Chromium here' };
  const browser = await openChromium();
  const all: number[] = [];
  for (let count = 0; count < TIMES; count += 1) {
    const startedMs = performance.now();
    const carrier = await browserCarrier(1, mkdtempSync(join(tmpdir(), 'dimroom-bench-')));
    const page = await browser.newPage();
    await page.goto(carrier.console);
    await page.getByRole('heading', { name: 'no session' }).waitFor();
    all.push(performance.now() - startedMs);
    await page.close();
    await carrier.stop();
  }
  await browser.close();
  return rowOf(what, 'ms', all, { note: 'the browser itself was open already' });
}

async function onDesktop(): Promise<Row | Lacking> {
  const what = 'cold start to a usable console, desktop';
  if (!HAS_DESKTOP) return { what, why: 'no Electron or no display here' };
  const all: number[] = [];
  for (let count = 0; count < TIMES; count += 1) {
    const folder = mkdtempSync(join(tmpdir(), 'dimroom-bench-'));
    const startedMs = performance.now();
    const desk = await desktop(1, folder);
    await desk.console.getByRole('heading', { name: 'no session' }).waitFor();
    all.push(performance.now() - startedMs);
    await desk.stop();
    rmSync(folder, { recursive: true, force: true });
  }
  return rowOf(what, 'ms', all);
}
