import type { SessionView } from '../../core/protocol/view.ts';
import { type Bow, bowOver, fractionAt, highestY, type Point, pointOn, stretchPath } from './arc-geometry.ts';
import { type DayMark, dayMarks, daySpan, dayStretches, type Stretch } from './day-course.ts';
import { type Box, type Placed, placeLabels, type Wanted, wordsWidth } from './label-places.ts';

type Course = NonNullable<SessionView['course']>;

/** The ground that the arc is drawn on, and how large its words are. */
export interface ArcFrame {
  readonly width: number;
  readonly height: number;
  readonly letterPx: number;
  /** Without words at the marks: for a narrow place. */
  readonly compact: boolean;
}

export interface ArcLayout {
  readonly bow: Bow;
  readonly linePx: number;
  /** The whole way, faint. */
  readonly way: string;
  readonly stretches: readonly { readonly kind: Stretch['kind']; readonly path: string }[];
  readonly ticks: readonly { readonly at: Point; readonly firm: boolean }[];
  readonly window: Box | null;
  readonly now: Point | null;
  readonly labels: readonly Placed[];
}

const MINUTE_MS = 60_000;

/** All that the day arc draws, in the frame's pixels. */
export function arcLayout(course: Course, nowMs: number, frame: ArcFrame): ArcLayout {
  const span = daySpan(course, nowMs);
  const bow = bowIn(frame, fractionAt(span, course.lightDueAtMs));
  const marks = dayMarks(course, nowMs);
  const onBow = (atMs: number): Point => pointOn(bow, fractionAt(span, atMs));
  const window = windowAt(onBow(course.lightDueAtMs), frame);
  const ticks = marks.filter(({ kind }) => kind !== 'light window');
  return {
    bow,
    linePx: linePx(frame),
    way: stretchPath(bow, 0, 1),
    stretches: dayStretches(course, nowMs).map(({ kind, fromAtMs, toAtMs }) => ({
      kind,
      path: stretchPath(bow, fractionAt(span, fromAtMs), fractionAt(span, toAtMs)),
    })),
    ticks: ticks.map(({ atMs, firm }) => ({ at: onBow(atMs), firm })),
    window,
    now: onBow(nowMs),
    labels: labelsOf({ bow, frame, window, marks, onBow, minutes: (span.toAtMs - span.fromAtMs) / MINUTE_MS }),
  };
}

/** The arc before T0: the way ahead, with the window where the regimen has it. */
export function arcAhead(lightStartMin: number | null, frame: ArcFrame): ArcLayout {
  const fraction = (lightStartMin ?? USUAL_MIN) / AHEAD_MIN;
  const bow = bowIn(frame, fraction);
  const window = lightStartMin === null ? null : windowAt(pointOn(bow, fraction), frame);
  const way = stretchPath(bow, 0, 1);
  return { bow, linePx: linePx(frame), way, stretches: [], ticks: [], window, now: null, labels: [] };
}

const AHEAD_MIN = 20;
const USUAL_MIN = 15;

const linePx = ({ letterPx, compact }: ArcFrame): number => letterPx * (compact ? 0.2 : 0.24);

/** The window is this many letters high; it stands clear of the line, so that the dot passes below it. */
const WINDOW_LETTERS = 2.5;
const WINDOW_SHAPE = 0.76;
const CLEAR_LETTERS = 0.62;

/** Height of a label, with air above and below. */
const LABEL_LETTERS = 1.35;

/**
 * The bow as high as its frame allows: words fit over its top, and the window fits where it stands, `windowFraction` of
 * the way along. There the bow lies lower than its top, by about its rise times the square of how far from the middle.
 */
function bowIn({ width, height, letterPx, compact }: ArcFrame, windowFraction: number): Bow {
  const aside = letterPx * 0.9;
  const room = height - letterPx * 1.7;
  const drop = 0.95 * (2 * windowFraction - 1) ** 2;
  const underWords = room - letterPx * (CLEAR_LETTERS + LABEL_LETTERS);
  const underWindow = (room - letterPx * (WINDOW_LETTERS + CLEAR_LETTERS + 0.1)) / (1 - drop);
  return bowOver(aside, width - aside, room, Math.min(compact ? room : underWords, underWindow));
}

function windowAt(foot: Point, { letterPx }: ArcFrame): Box {
  const height = letterPx * WINDOW_LETTERS;
  const width = height * WINDOW_SHAPE;
  return { x: foot.x - width / 2, y: foot.y - letterPx * CLEAR_LETTERS - height, width, height };
}

interface Labelling {
  readonly bow: Bow;
  readonly frame: ArcFrame;
  readonly window: Box;
  readonly marks: readonly DayMark[];
  readonly onBow: (atMs: number) => Point;
  readonly minutes: number;
}

function labelsOf({ bow, frame, window, marks, onBow, minutes }: Labelling): Placed[] {
  const { width, height, letterPx, compact } = frame;
  const bounds = { x: 0, y: 0, width, height };
  const feet = [footLabel('start', 'T0', bow, letterPx), footLabel('end', `${minutes} min`, bow, letterPx)];
  const named = compact ? [] : marks;
  const atMarks = named.map((mark): Wanted => {
    const places = mark.kind === 'light window' ? besideWindow : overTick;
    return { id: mark.kind, words: mark.words, places: places(mark.words, onBow(mark.atMs), bow, letterPx, window) };
  });
  return placeLabels([...feet, ...atMarks], [window], bounds);
}

/** Words at a foot of the bow lie below the horizon, flush with the foot. */
function footLabel(id: 'start' | 'end', words: string, bow: Bow, letterPx: number): Wanted {
  const width = wordsWidth(words, letterPx);
  const x = id === 'start' ? bow.leftX - letterPx * 0.5 : bow.rightX + letterPx * 0.5 - width;
  return { id, words, places: [{ x, y: bow.horizonY + letterPx * 0.3, width, height: letterPx * LABEL_LETTERS }] };
}

type Places = (words: string, at: Point, bow: Bow, letterPx: number, window: Box) => Box[];

/** The window's words stand beside it, on the side where the bow falls away, else over it. */
const besideWindow: Places = (words, at, bow, letterPx, window) => {
  const width = wordsWidth(words, letterPx);
  const height = letterPx * LABEL_LETTERS;
  const y = window.y + (window.height - height) / 2;
  const right = { x: window.x + window.width + letterPx * 0.5, y, width, height };
  const left = { x: window.x - letterPx * 0.5 - width, y, width, height };
  const over = { x: at.x - width / 2, y: window.y - height, width, height };
  const clear = (place: Box): boolean =>
    place.y + place.height <= highestY(bow, place.x, place.x + place.width) - letterPx * 0.3;
  return [right, left, over].filter(clear);
};

/** A tick's words lie over the bow: about it, before it, after it, and the same one line higher. */
const overTick: Places = (words, at, bow, letterPx) => {
  const width = wordsWidth(words, letterPx);
  const height = letterPx * LABEL_LETTERS;
  const aside = letterPx * 0.4;
  const starts = [at.x - width / 2, at.x + aside - width, at.x - aside];
  return [0, 1].flatMap((line) =>
    starts.map((x) => ({
      x,
      y: highestY(bow, x, x + width) - letterPx * CLEAR_LETTERS - height * (1 + line),
      width,
      height,
    })),
  );
};
