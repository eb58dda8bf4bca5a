import { powerSaveBlocker } from 'electron';

/** Keeps the displays lit while a session is open, and lets them sleep otherwise. */
export function displayLight(): { keepOn(wanted: boolean): void } {
  let blocker: number | null = null;
  return {
    keepOn: (wanted) => {
      if (wanted && blocker === null) blocker = powerSaveBlocker.start('prevent-display-sleep');
      if (!wanted && blocker !== null) {
        powerSaveBlocker.stop(blocker);
        blocker = null;
      }
    },
  };
}
