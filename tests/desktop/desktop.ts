import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { _electron, type ElectronApplication, type Page } from 'playwright';
import { stationOf } from '../screens/station-process.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const { presentElectron }: { presentElectron: () => string | null } = await import(
  join(ROOT, 'build/electron-runtime.mjs')
);
const { stationNode }: { stationNode: () => string } = await import(join(ROOT, 'build/node-runtime.mjs'));

const ELECTRON = presentElectron();
const HAS_DISPLAY = process.platform !== 'linux' || Boolean(process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY);

/** Whether windows can be shown here; the reason why not is printed by `npm test`. */
export const HAS_DESKTOP = ELECTRON !== null && HAS_DISPLAY;

/** What comes about by itself is waited for this long. */
export const SOON = { timeout: 15_000 };
const LOOK_AGAIN_MS = 50;

export interface Desktop {
  readonly app: ElectronApplication;
  readonly console: Page;
  /** Null where there is one display only. */
  readonly board: Page | null;
  /** Where everything is kept; it outlives `close`, so that a desktop can be started on it again. */
  readonly folder: string;
  readonly ledgerFile: string;
  stationPid(): number;
  /** What is answered when Dimroom asks whether it may close while under way. */
  answerClosing(answer: 'stay' | 'close'): Promise<void>;
  close(): Promise<void>;
  /** Closes, and takes the folder away. */
  stop(): Promise<void>;
}

/** Dimroom in practice, in Electron, on a ledger of its own or on one of an earlier start. */
export const desktop = (speed = 60, folder = mkdtempSync(join(tmpdir(), 'dimroom-desktop-'))): Promise<Desktop> =>
  desktopOf({ program: ELECTRON ?? '', words: [ROOT, '--practice', '--speed', String(speed)] }, folder);

/** Dimroom as in a clinic: its people are on a roster, and sign in. Nothing runs faster than it does. */
export const desktopInEarnest = (folder = mkdtempSync(join(tmpdir(), 'dimroom-desktop-'))): Promise<Desktop> =>
  desktopOf({ program: ELECTRON ?? '', words: [ROOT] }, folder);

interface Start {
  readonly program: string;
  readonly words: readonly string[];
  readonly variables?: Readonly<Record<string, string>>;
}

/** The same of any program that has Electron in it, with the words it is started with. */
export async function desktopOf({ program, words, variables = {} }: Start, folder: string): Promise<Desktop> {
  const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const app = await _electron.launch({
    executablePath: program,
    args: [...asRoot, '--disable-gpu', ...words, '--data', folder],
    env: { ...environment(), DIMROOM_STATION_NODE: stationNode(), DIMROOM_CLOSING_ANSWER: 'close', ...variables },
  });
  const displays = await app.evaluate(({ screen }) => screen.getAllDisplays().length);
  const console_ = await windowAt(app, '/console');
  const board = displays > 1 ? await windowAt(app, '/board') : null;
  const close = async (): Promise<void> => {
    await app.close();
  };
  return {
    app,
    console: console_,
    board,
    folder,
    ledgerFile: join(folder, words.includes('--practice') ? 'practice.sqlite3' : 'ledger.sqlite3'),
    stationPid: () => stationOf(app.process().pid),
    answerClosing: (answer) =>
      app.evaluate((_electron, given) => {
        process.env.DIMROOM_CLOSING_ANSWER = given;
      }, answer),
    close,
    stop: async () => {
      await close();
      rmSync(folder, { recursive: true, maxRetries: 5 });
    },
  };
}

/** The window that shows a screen, as soon as its page is there: what is sent earlier is answered to nobody. */
export async function windowAt(app: ElectronApplication, path: string): Promise<Page> {
  const shows = (page: Page): boolean => new URL(page.url()).pathname === path;
  const page = app.windows().find(shows) ?? (await app.waitForEvent('window', { predicate: shows }));
  // Asked for, not waited for: the event of a page that was there first may have gone by unheard.
  while ((await page.evaluate(() => document.readyState)) !== 'complete') await page.waitForTimeout(LOOK_AGAIN_MS);
  return page;
}

/** Where the window of a screen is, by the shell; null while it has none. */
export function placeOf({ app }: Pick<Desktop, 'app'>, path: string): Promise<Place | null> {
  return app.evaluate(({ BrowserWindow }, at) => {
    const shows = (one: Electron.BrowserWindow): boolean => new URL(one.webContents.getURL()).pathname === at;
    const window = BrowserWindow.getAllWindows().find(shows);
    return window === undefined
      ? null
      : { bounds: window.getBounds(), full: window.isFullScreen(), focused: window.isFocused() };
  }, path);
}

interface Place {
  readonly bounds: Electron.Rectangle;
  readonly full: boolean;
  readonly focused: boolean;
}

function environment(): Record<string, string> {
  return Object.fromEntries(
    Object.entries(process.env).filter((pair): pair is [string, string] => pair[1] !== undefined),
  );
}
