import { join } from 'node:path';
import { app, BrowserWindow, type BrowserWindowConstructorOptions, type Display, screen } from 'electron';
import { bringOnto } from './bring-onto.ts';
import { pageUrl } from './protocol.ts';
import { secureWebPreferences } from './security.ts';

/** The screens' ground, so that nothing flashes white in a dark room. */
const GROUND = '#0a0806';

/** As for the board: how long a window system may take, and how often it is told again. */
const SETTLED_MS = 200;
const MOST_REFILLS = 3;

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
export function moveConsole(consoleWindow: BrowserWindow, display: Display): void {
  const kiosk = consoleWindow.isKiosk();
  if (kiosk) consoleWindow.setKiosk(false);
  consoleWindow.unmaximize();
  if (kiosk) fillAsKiosk(consoleWindow, display);
  else maximizeOn(consoleWindow, display);
}

/** As a kiosk the console fills its display, as the board always does, and the system's own bars are out of reach. */
export function setConsoleKiosk(consoleWindow: BrowserWindow, kiosk: boolean): void {
  const set = (): void => {
    if (consoleWindow.isDestroyed() || consoleWindow.isKiosk() === kiosk) return;
    const display = screen.getDisplayMatching(consoleWindow.getBounds());
    if (kiosk) {
      fillAsKiosk(consoleWindow, display);
      return;
    }
    consoleWindow.setKiosk(false);
    maximizeOn(consoleWindow, display);
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

function maximizeOn(consoleWindow: BrowserWindow, { workArea }: Display): void {
  bringOnto(consoleWindow, workArea);
  consoleWindow.maximize();
}

/** A window system that has just shown or moved a window may have another word after this; then it is told again. */
function fillAsKiosk(consoleWindow: BrowserWindow, display: Display, triesLeft = MOST_REFILLS): void {
  const { bounds } = display;
  bringOnto(consoleWindow, bounds);
  consoleWindow.setKiosk(true);
  // macOS moves the window into a space of its own, which takes longer and needs no second word.
  if (triesLeft === 0 || process.platform === 'darwin') return;
  setTimeout(() => {
    if (consoleWindow.isDestroyed() || !consoleWindow.isKiosk()) return;
    const { x, y, width, height } = consoleWindow.getBounds();
    if (x === bounds.x && y === bounds.y && width === bounds.width && height === bounds.height) return;
    consoleWindow.setKiosk(false);
    fillAsKiosk(consoleWindow, display, triesLeft - 1);
  }, SETTLED_MS);
}

const windowOptions = (title: string): BrowserWindowConstructorOptions => ({
  title,
  show: false,
  backgroundColor: GROUND,
  autoHideMenuBar: true,
  webPreferences: secureWebPreferences(join(__dirname, 'preload.cjs'), app.isPackaged),
});
