import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright';
import { afterAll, beforeAll } from 'vitest';
import { stationOf } from './station-process.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const { presentChromium }: { presentChromium: () => string | null } = await import(join(ROOT, 'build/chromium.mjs'));

/** The Chromium that is here; null where there is none, and nothing that needs one can run. */
export const CHROMIUM = presentChromium();

export interface BrowserCarrier {
  readonly ledgerFile: string;
  readonly console: string;
  readonly board: string;
  readonly ledger: string;
  /** The process that the carrier started as its station. */
  stationPid(): number;
  stop(): Promise<void>;
}

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'dimroom-screens-'));

/** As in a clinic: no practice, so people are on a roster and sign in. */
export const IN_EARNEST = 'in earnest';

/** Dimroom, served to a browser, with a ledger of its own or one that is there already; in practice, so many times as fast. */
export async function browserCarrier(
  speed: number | typeof IN_EARNEST,
  folder: string,
  more: readonly string[] = [],
): Promise<BrowserCarrier> {
  const practice = speed !== IN_EARNEST;
  const words = [...(practice ? ['--practice', '--speed', String(speed)] : []), '--no-open', '--data', folder, ...more];
  const child = spawn(process.execPath, [join(ROOT, 'dist/browser/main.mjs'), ...words], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const [consoleAt = '', board = '', ledger = ''] = await addressesOf(child);
  return {
    ledgerFile: join(folder, practice ? 'practice.sqlite3' : 'ledger.sqlite3'),
    console: consoleAt,
    board,
    ledger,
    stationPid: () => stationOf(child.pid),
    stop: async () => {
      const ended = once(child, 'exit');
      child.kill('SIGTERM');
      await ended;
      rmSync(folder, { recursive: true, maxRetries: 5 });
    },
  };
}

async function addressesOf(child: ChildProcess): Promise<string[]> {
  if (child.stdout === null) throw new Error('the carrier has no output');
  const addresses: string[] = [];
  for await (const line of createInterface(child.stdout)) {
    addresses.push(line);
    if (addresses.length === 3) return addresses;
  }
  throw new Error('the carrier ended before it had an address: is dist/ bundled?');
}

/** For the tests of a file: one carrier and one browser, there from the first test to the last. */
export function carriedScreens(
  speed: number | typeof IN_EARNEST = 60,
  folder: () => string | Promise<string> = newFolder,
  more: readonly string[] = [],
) {
  let carrier: BrowserCarrier;
  let browser: Browser;
  const errors: string[] = [];
  beforeAll(async () => {
    [carrier, browser] = await Promise.all([browserCarrier(speed, await folder(), more), openChromium()]);
  });
  afterAll(async () => {
    await browser?.close();
    await carrier?.stop();
  });
  return {
    /** What the pages reported as errors. */
    errors,
    carrier: () => carrier,
    /** A page of its own browser profile: another pair of hands. */
    open: async (screen: 'console' | 'board' | 'ledger', viewport = { width: 1280, height: 800 }): Promise<Page> => {
      const context = await browser.newContext({ viewport });
      context.setDefaultTimeout(15_000);
      return openScreen(context, carrier[screen], errors);
    },
  };
}

export function openChromium(): Promise<Browser> {
  const args = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  return chromium.launch({ args, ...(CHROMIUM === null ? {} : { executablePath: CHROMIUM }) });
}

/** A page on one of the screens. What it reports as an error is kept, for a test to find none. */
async function openScreen(context: BrowserContext, address: string, errors: string[]): Promise<Page> {
  const page = await context.newPage();
  page.on('pageerror', (error) => errors.push(String(error)));
  await page.goto(address);
  return page;
}
