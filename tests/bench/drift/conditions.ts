import { type ChildProcess, spawn } from 'node:child_process';
import { cpus } from 'node:os';
import type { Desktop } from '../../desktop/desktop.ts';

/** What the board has to count right under. `bring` brings it about, and gives back the way to end it. */
export interface Condition {
  readonly name: 'idle' | 'covered by another window' | 'every core busy';
  bring(desk: Desktop): Promise<() => Promise<void>>;
}

export const CONDITIONS: readonly Condition[] = [
  { name: 'idle', bring: async () => async () => {} },
  { name: 'covered by another window', bring: cover },
  {
    name: 'every core busy',
    bring: async () => {
      const burners = cpus().map(burn);
      return async () => {
        for (const burner of burners) burner.kill();
      };
    },
  },
];

const burn = (): ChildProcess => spawn(process.execPath, ['-e', 'for (;;);'], { stdio: 'ignore' });

/** A window over all of the board, which does not take the keyboard. */
async function cover({ app }: Desktop): Promise<() => Promise<void>> {
  const id = await app.evaluate(({ BrowserWindow }) => {
    const board = BrowserWindow.getAllWindows().find(({ webContents }) => webContents.getURL().endsWith('/board'));
    if (board === undefined) throw new Error('there is no board to cover');
    const above = { frame: false, alwaysOnTop: true, focusable: false, enableLargerThanScreen: true };
    const window = new BrowserWindow({ ...board.getBounds(), ...above, show: false });
    window.showInactive();
    window.moveTop();
    return window.id;
  });
  return () => app.evaluate(({ BrowserWindow }, over) => BrowserWindow.fromId(over)?.destroy(), id);
}
