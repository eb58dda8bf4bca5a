import { join } from 'node:path';
import { app, BrowserWindow, type BrowserWindowConstructorOptions, type Display, screen } from 'electron';
import { pageUrl } from './protocol.ts';
import { secureWebPreferences } from './security.ts';

/** The screens' ground, so that nothing flashes white in a dark room. */
const GROUND = '#0a0806';

/** The nurse's window, on the primary display. */
export function openConsole(): BrowserWindow {
  const { workArea } = screen.getPrimaryDisplay();
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
  if (process.platform === 'darwin') {
    board.setSimpleFullScreen(false);
    board.setBounds(bounds);
    board.setSimpleFullScreen(true);
    return;
  }
  board.setFullScreen(false);
  board.setBounds(bounds);
  board.setFullScreen(true);
}

const windowOptions = (title: string): BrowserWindowConstructorOptions => ({
  title,
  show: false,
  backgroundColor: GROUND,
  autoHideMenuBar: true,
  webPreferences: secureWebPreferences(join(__dirname, 'preload.cjs'), app.isPackaged),
});
