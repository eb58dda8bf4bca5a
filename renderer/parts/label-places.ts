/** Finds places for words beside a drawing, so that none lies on another. */

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A label, with the places it may take, best first. */
export interface Wanted {
  readonly id: string;
  readonly words: string;
  readonly places: readonly Box[];
}

export interface Placed {
  readonly id: string;
  readonly words: string;
  readonly box: Box;
}

/** Mean advance of a letter of the screen's font, in its sizes, over the words that are used. */
const LETTER_EM = 0.53;

export const wordsWidth = (words: string, sizePx: number): number => words.length * LETTER_EM * sizePx;

/**
 * Gives each label, in order of weight, the first of its places that is free and within `bounds`. One that finds none
 * is left out: what it marks is drawn all the same.
 */
export function placeLabels(wanted: readonly Wanted[], taken: readonly Box[], bounds: Box): Placed[] {
  const placed: Placed[] = [];
  for (const { id, words, places } of wanted) {
    const full = [...taken, ...placed.map((one) => one.box)];
    const box = places.find((place) => within(place, bounds) && !full.some((other) => overlap(place, other)));
    if (box !== undefined) placed.push({ id, words, box });
  }
  return placed;
}

export function overlap(one: Box, other: Box): boolean {
  const across = one.x < other.x + other.width && other.x < one.x + one.width;
  return across && one.y < other.y + other.height && other.y < one.y + one.height;
}

export function within(box: Box, bounds: Box): boolean {
  const across = box.x >= bounds.x && box.x + box.width <= bounds.x + bounds.width;
  return across && box.y >= bounds.y && box.y + box.height <= bounds.y + bounds.height;
}
