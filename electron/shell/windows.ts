import { join } from 'node:path';
import { app, BrowserWindow, type BrowserWindowConstructorOptions, type Display } from 'electron';
import { bringOnto } from './bring-onto.ts';
import { pageUrl } from './protocol.ts';
import { secureWebPreferences } from './security.ts';

/** The screens' ground, so that nothing flashes white in a dark room. */
const GROUND = '#0a0806';

/** The nurse's window, on a display. */
export function openConsole({ workArea }: Display): BrowserWindow {
  const consoleWindow = new BrowserWindow({
    ...windowOptions('Dimroom'),
    ...workArea,
    minWidth: 1024,
    minHeight: 700,
  });
  consoleWindow.once('ready-to-show', () => {
    consoleWindow.maximize();
    consoleWindow.show();
    consoleWindow.focus();
  });
  void consoleWindow.loadURL(pageUrl('console'));
  return consoleWindow;
}

/** Moves the console onto a display. It keeps the keyboard, or does without, as before; a kiosk stays one. */
export function moveConsole(consoleWindow: BrowserWindow, { workArea }: Display): void {
  const kiosk = consoleWindow.isKiosk();
  if (kiosk) consoleWindow.setKiosk(false);
  consoleWindow.unmaximize();
  bringOnto(consoleWindow, workArea);
  consoleWindow.maximize();
  if (kiosk) consoleWindow.setKiosk(true);
}

/** As a kiosk the console fills its display, as the board always does, and the system's own bars are out of reach. */
export function setConsoleKiosk(consoleWindow: BrowserWindow, kiosk: boolean): void {
  const set = (): void => {
    if (!consoleWindow.isDestroyed() && consoleWindow.isKiosk() !== kiosk) consoleWindow.setKiosk(kiosk);
  };
  // A window that is not shown yet is made as large as its display's work area once it is.
  if (consoleWindow.isVisible()) set();
  else consoleWindow.once('show', set);
}

/** The board, filling a display. It never takes the keyboard: keys belong to the console. */
export function openBoard(display: Display): BrowserWindow {
  const board = new BrowserWindow({
    ...windowOptions('Dimroom board'),
    ...display.bounds,
    frame: false,
    minimizable: false,
    skipTaskbar: true,
    enableLargerThanScreen: true,
  });
  board.once('ready-to-show', () => {
    board.showInactive();
    fill(board, display);
  });
  void board.loadURL(pageUrl('board'));
  return board;
}

/** Moves the board onto a display and fills it. */
export function fill(board: BrowserWindow, { bounds }: Display): void {
  // macOS full screen is a space of its own, which takes the keyboard along; the simple one is not.
  const simple = process.platform === 'darwin';
  const setFull = (full: boolean): void => (simple ? board.setSimpleFullScreen(full) : board.setFullScreen(full));
  setFull(false);
  bringOnto(board, bounds);
  setFull(true);
}

const windowOptions = (title: string): BrowserWindowConstructorOptions => ({
  title,
  show: false,
  backgroundColor: GROUND,
  autoHideMenuBar: true,
  webPreferences: secureWebPreferences(join(__dirname, 'preload.cjs'), app.isPackaged),
});
