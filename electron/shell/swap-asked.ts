import { type BrowserWindow, ipcMain } from 'electron';
import type { SwapAnswer } from '../../core/protocol/bridge.ts';
import { CHANNELS } from './channels.ts';
import { isOwnFrame } from './security.ts';

/** Has the windows change places when the console, and nobody else, asks. */
export function hearSwap(consoleWindow: BrowserWindow, swap: () => boolean): void {
  ipcMain.handle(CHANNELS.swap, ({ sender, senderFrame }): SwapAnswer => {
    if (sender !== consoleWindow.webContents || !isOwnFrame(senderFrame, sender)) {
      console.error('a page that is not the console asked for the windows to change places');
      return 'only the console may ask for that';
    }
    return swap() ? null : 'there is no second monitor to change places with';
  });
}
