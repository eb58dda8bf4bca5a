import { createStore, useStore } from './external-store.ts';

/** How far the room is dimmed: 1 is the brightest table of colours, 3 the darkest. */
export type Dim = 1 | 2 | 3;

const KEPT_AS = 'dimroom.dim';
const level = createStore<Dim>(1);

/** The level of dimming, shared by every window of this program. */
export const useDim = (): Dim => useStore(level);

export function setDim(next: Dim): void {
  level.set(next);
  show();
  keep(next);
}

/** Takes up the level as it was kept, and follows another window's change. Called once. */
export function followDim(): void {
  const take = () => {
    level.set(kept());
    show();
  };
  take();
  window.addEventListener('storage', (event) => {
    if (event.key === KEPT_AS) take();
  });
}

const show = (): void => {
  document.documentElement.dataset.dim = String(level.get());
};

function kept(): Dim {
  const found = Number(localStorage.getItem(KEPT_AS));
  return found === 2 || found === 3 ? found : 1;
}

/** Where the disk refuses, the level holds for this window. */
function keep(next: Dim): void {
  try {
    localStorage.setItem(KEPT_AS, String(next));
  } catch {
    console.warn('the level of dimming could not be kept');
  }
}
