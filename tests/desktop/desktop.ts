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

export interface Desktop {
  readonly app: ElectronApplication;
  readonly console: Page;
  /** Null where there is one display only. */
  readonly board: Page | null;
  readonly ledgerFile: string;
  stationPid(): number;
  /** What is answered when Dimroom asks whether it may close while under way. */
  answerClosing(answer: 'stay' | 'close'): Promise<void>;
  stop(): Promise<void>;
}

/** Dimroom in practice, in Electron, with a ledger of its own. */
export async function desktop(speed = 60): Promise<Desktop> {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-desktop-'));
  const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const app = await _electron.launch({
    executablePath: ELECTRON ?? '',
    args: [...asRoot, '--disable-gpu', ROOT, '--practice', '--speed', String(speed), '--data', folder],
    env: { ...environment(), DIMROOM_STATION_NODE: stationNode(), DIMROOM_CLOSING_ANSWER: 'close' },
  });
  const displays = await app.evaluate(({ screen }) => screen.getAllDisplays().length);
  const console_ = await windowAt(app, '/console');
  const board = displays > 1 ? await windowAt(app, '/board') : null;
  return {
    app,
    console: console_,
    board,
    ledgerFile: join(folder, 'practice.sqlite3'),
    stationPid: () => stationOf(app.process().pid),
    answerClosing: (answer) =>
      app.evaluate((_electron, given) => {
        process.env.DIMROOM_CLOSING_ANSWER = given;
      }, answer),
    stop: async () => {
      await app.close();
      rmSync(folder, { recursive: true, maxRetries: 5 });
    },
  };
}

/** The window that shows a screen, as soon as it is there. */
export async function windowAt(app: ElectronApplication, path: string): Promise<Page> {
  const shows = (page: Page): boolean => new URL(page.url()).pathname === path;
  const present = app.windows().find(shows);
  return present ?? (await app.waitForEvent('window', { predicate: shows }));
}

function environment(): Record<string, string> {
  return Object.fromEntries(
    Object.entries(process.env).filter((pair): pair is [string, string] => pair[1] !== undefined),
  );
}
