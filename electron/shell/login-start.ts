import { homedir } from 'node:os';
import { join } from 'node:path';
import { app } from 'electron';
import { setAutostart } from './autostart-file.ts';

/** Has the system start this very app, with the same words, when somebody logs in; or no longer. */
export function setLoginStart(wanted: boolean, words: readonly string[]): void {
  try {
    if (process.platform === 'linux') setAutostart(autostartFile(), wanted ? { program: ownProgram(), words } : null);
    else app.setLoginItemSettings({ openAtLogin: wanted, path: process.execPath, args: [...words] });
  } catch (error) {
    console.error(`whether Dimroom starts at login could not be set: ${String(error)}`);
  }
}

const autostartFile = (): string =>
  join(process.env.XDG_CONFIG_HOME || join(homedir(), '.config'), 'autostart', 'dimroom.desktop');

/** An AppImage runs from a folder that is gone with it; it tells its own place in a variable. */
const ownProgram = (): string => process.env.APPIMAGE ?? process.execPath;
