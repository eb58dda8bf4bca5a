import type { BrowserWindow } from 'electron';

/** The platform's own key to quit asks for closing as a window's cross does: without a menu, and in a kiosk, there is no other. */
export function hearQuitKey(consoleWindow: BrowserWindow): void {
  consoleWindow.webContents.on(
    'before-input-event',
    (event, { type, key, control, meta, alt, shift, isAutoRepeat }) => {
      const held = process.platform === 'darwin' ? meta && !control : control && !meta;
      if (type !== 'keyDown' || key.toLowerCase() !== 'q' || !held || alt || shift) return;
      event.preventDefault();
      if (!isAutoRepeat) consoleWindow.close();
    },
  );
}
