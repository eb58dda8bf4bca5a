import type { BrowserWindow } from 'electron';
import { pageUrl } from './protocol.ts';

const MOST_IN_A_MINUTE = 3;
const MINUTE_MS = 60_000;

/** Shows a window's page again after its process has gone; one that keeps going shows a plain page instead. */
export function mendCrashes(name: string, window: BrowserWindow, report: (words: string) => void): void {
  let crashesAtMs: number[] = [];
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    const nowMs = performance.now();
    crashesAtMs = [...crashesAtMs.filter((atMs) => nowMs - atMs < MINUTE_MS), nowMs];
    const again = crashesAtMs.length <= MOST_IN_A_MINUTE;
    report(`${name} window failed (${reason}): ${again ? 'shown again' : 'it keeps failing and is given up'}`);
    // Not within the event: Chromium is still taking the old process down.
    setTimeout(() => {
      if (window.isDestroyed()) return;
      if (again) window.webContents.reload();
      else void window.loadURL(pageUrl('crashed'));
    });
  });
}
