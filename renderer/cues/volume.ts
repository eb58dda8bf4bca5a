import { Howler } from 'howler';
import { createStore, useStore } from '../link/external-store.ts';

/** From the lowest to the highest: 5 dB a step. Never silent. */
const GAINS = [0.1, 0.18, 0.32, 0.56, 1] as const;
export const HIGHEST = GAINS.length;
const KEPT_AS = 'dimroom.volume';

const level = createStore<number>(HIGHEST);

/** How loud the cues are, from 1 to `HIGHEST`: kept for this machine, the same in every window. */
export const useVolume = (): number => useStore(level);

/** A step louder or softer. Gives what it is then. */
export function stepVolume(by: 1 | -1): number {
  const next = Math.min(HIGHEST, Math.max(1, level.get() + by));
  take(next);
  try {
    localStorage.setItem(KEPT_AS, String(next));
  } catch {
    console.warn('the volume could not be kept');
  }
  return next;
}

/** In words, for a person. At the ends of the scale it says so. */
export function volumeWords(now: number): string {
  const end = now === 1 ? ', the lowest: it is never silent' : now === HIGHEST ? ', the highest' : '';
  return `volume ${now} of ${HIGHEST}${end}`;
}

/** Takes up the volume as it was kept, and follows another window's change. Called once. */
export function followVolume(): void {
  take(kept());
  window.addEventListener('storage', ({ key }) => {
    if (key === KEPT_AS) take(kept());
  });
}

function kept(): number {
  const found = Number(localStorage.getItem(KEPT_AS));
  return Number.isInteger(found) && found >= 1 && found <= HIGHEST ? found : HIGHEST;
}

function take(next: number): void {
  level.set(next);
  Howler.volume(GAINS[next - 1] ?? 1);
}
