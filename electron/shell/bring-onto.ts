import type { Rectangle } from 'electron';

interface Movable {
  getBounds(): Rectangle;
  setBounds(bounds: Rectangle): void;
}

/** Between displays of unlike scale it comes nearer with each try; the second is right as a rule. */
const MOST_TRIES = 3;

/** On X11 a window that is not meant to be full screen is kept a pixel smaller than the screen. */
const NEAR_PX = 2;

/**
 * Moves a window to a place, again where it did not arrive: onto a display of another scale factor, Windows carries the
 * old display's scale into the new size (Electron's issue 10862).
 */
export function bringOnto(window: Movable, place: Rectangle): void {
  for (let tries = 0; tries < MOST_TRIES; tries += 1) {
    window.setBounds(place);
    if (isNear(window.getBounds(), place)) return;
  }
}

const isNear = (a: Rectangle, b: Rectangle): boolean =>
  [a.x - b.x, a.y - b.y, a.width - b.width, a.height - b.height].every((apart) => Math.abs(apart) <= NEAR_PX);
