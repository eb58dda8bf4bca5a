import { type Bow, bowY, highestY, type Point } from './arc-geometry.ts';
import type { ArcFrame } from './arc-layout.ts';
import type { DayMark } from './day-course.ts';
import { type Box, type Placed, placeLabels, type Wanted, wordsWidth } from './label-places.ts';

/** In letters: what stands on the arc is this clear of its line. */
export const CLEAR_LETTERS = 0.62;
/** In letters: height of a label, with air above and below. */
export const LABEL_LETTERS = 1.35;

interface Labelling {
  readonly bow: Bow;
  readonly frame: ArcFrame;
  readonly window: Box;
  readonly marks: readonly DayMark[];
  readonly onBow: (atMs: number) => Point;
  /** What the whole arc stands for. */
  readonly minutes: number;
}

/** The words at the feet of the arc and at its marks, none on another. */
export function arcLabels({ bow, frame, window, marks, onBow, minutes }: Labelling): Placed[] {
  const { width, height, letterPx, compact, say = inEnglish } = frame;
  const feet = [footLabel('start', 'T0', bow, letterPx), footLabel('end', `${minutes} min`, bow, letterPx)];
  const named = compact ? [] : marks;
  const atMarks = named.map(({ kind, words, atMs }): Wanted => {
    const at = onBow(atMs);
    const places = PLACES[kind](wordsWidth(say(words), letterPx), at, bow, letterPx, window);
    return { id: kind, words, places };
  });
  return placeLabels([...feet, ...atMarks], [aroundWindow(window, letterPx)], { x: 0, y: 0, width, height });
}

const inEnglish = (words: string): string => words;

/** The window with air at its sides. */
const aroundWindow = ({ x, width, ...upright }: Box, letterPx: number): Box => {
  const air = letterPx * 0.45;
  return { x: x - air, width: width + 2 * air, ...upright };
};

/** Words at a foot of the bow lie below the horizon, flush with the foot. */
function footLabel(id: 'start' | 'end', words: string, bow: Bow, letterPx: number): Wanted {
  const width = wordsWidth(words, letterPx);
  const x = id === 'start' ? bow.leftX - letterPx * 0.5 : bow.rightX + letterPx * 0.5 - width;
  return { id, words, places: [{ x, y: bow.horizonY + letterPx * 0.3, width, height: letterPx * LABEL_LETTERS }] };
}

type Places = (width: number, at: Point, bow: Bow, letterPx: number, window: Box) => Box[];

/** The window's words stand beside its top, on the side where the bow falls away, else over it. */
const besideWindow: Places = (width, at, bow, letterPx, window) => {
  const height = letterPx * LABEL_LETTERS;
  const { y } = window;
  const right = { x: window.x + window.width + letterPx * 0.5, y, width, height };
  const left = { x: window.x - letterPx * 0.5 - width, y, width, height };
  const over = { x: at.x - width / 2, y: window.y - height, width, height };
  const clear = (place: Box): boolean =>
    place.y + place.height <= highestY(bow, place.x, place.x + place.width) - letterPx * 0.3;
  return [right, left, over].filter(clear);
};

type Side = 'before' | 'about' | 'after';

/**
 * A tick's words lie over the bow, on the sides named, nearest to it first; else on the same sides one line higher; else
 * within the bow, where it is high enough to be empty below.
 */
const overTick =
  (...sides: Side[]): Places =>
  (width, at, bow, letterPx) => {
    const height = letterPx * LABEL_LETTERS;
    const starts = { before: at.x + letterPx * 0.4 - width, about: at.x - width / 2, after: at.x - letterPx * 0.4 };
    const over = [0, 1].flatMap((line) =>
      sides.map((side) => {
        const x = starts[side];
        const y = highestY(bow, x, x + width) - letterPx * CLEAR_LETTERS - height * (1 + line);
        return { x, y, width, height };
      }),
    );
    return [...over, ...withinBow(width, at, bow, letterPx)];
  };

/** Under this many letters of height the words of the place that the arc stands in lie below its top. */
const EMPTY_BOW_LETTERS = 7;

/** Below the bow, its words ending or beginning near the tick, and at the right foot beside it. */
function withinBow(width: number, at: Point, bow: Bow, letterPx: number): Box[] {
  if (bow.horizonY - highestY(bow, bow.leftX, bow.rightX) < letterPx * EMPTY_BOW_LETTERS) return [];
  const height = letterPx * LABEL_LETTERS;
  const clear = letterPx * CLEAR_LETTERS;
  const below = [at.x - width / 2, at.x - width].map((x) => {
    const y = Math.max(bowY(bow, x), bowY(bow, x + width)) + clear;
    return { x, y, width, height };
  });
  const beside = { x: at.x - clear * 1.5 - width, y: at.y - height * 1.2, width, height };
  return [...below, beside].filter(
    ({ x, y }) => y + height < bow.horizonY && Math.max(bowY(bow, x), bowY(bow, x + width)) + clear / 2 <= y,
  );
}

/** The infusion lies before its end, and what follows it after: so their words stand apart. */
const PLACES: Record<DayMark['kind'], Places> = {
  'light window': besideWindow,
  'second eye': overTick('about', 'before', 'after'),
  'infusion end': overTick('before', 'about', 'after'),
  'flush end': overTick('after', 'about', 'before'),
};
