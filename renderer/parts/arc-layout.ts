import { type Bow, bowOver, type DaySpan, fractionAt, type Point, pointOn, stretchPath } from './arc-geometry.ts';
import { arcLabels, CLEAR_LETTERS, LABEL_LETTERS } from './arc-labels.ts';
import {
  courseAhead,
  type DayCourse,
  type DayMark,
  dayMarks,
  daySpan,
  dayStretches,
  type Stretch,
} from './day-course.ts';
import type { Box, Placed } from './label-places.ts';

/** The ground that the arc is drawn on, and how large its words are. */
export interface ArcFrame {
  readonly width: number;
  readonly height: number;
  readonly letterPx: number;
  /** Without words at the marks: for a narrow place. */
  readonly compact: boolean;
  /** The words that are read for English ones: places are found for their length. */
  readonly say?: (words: string) => string;
}

export interface ArcLayout {
  readonly bow: Bow;
  readonly linePx: number;
  /** The whole way, faint. */
  readonly way: string;
  readonly stretches: readonly { readonly kind: Stretch['kind']; readonly path: string }[];
  readonly ticks: readonly { readonly kind: DayMark['kind']; readonly at: Point; readonly firm: boolean }[];
  readonly window: Box | null;
  readonly now: Point | null;
  readonly labels: readonly Placed[];
}

/** What is known of the way before T0. */
export interface Ahead {
  /** From T0 to the light window; null before a regimen is ordered. */
  readonly lightStartMin: number | null;
  /** Null before the dose is computed. */
  readonly infusionMin: number | null;
}

/** All that the day arc draws, in the frame's pixels. */
export function arcLayout(course: DayCourse, nowMs: number, frame: ArcFrame): ArcLayout {
  const span = daySpan(course, nowMs);
  const drawn = drawnOn(span, course.lightDueAtMs, dayMarks(course, nowMs), dayStretches(course, nowMs), frame);
  return { ...drawn, now: pointOn(drawn.bow, fractionAt(span, nowMs)) };
}

/** The arc before T0: the way ahead as far as it is known. */
export function arcAhead({ lightStartMin, infusionMin }: Ahead, frame: ArcFrame): ArcLayout {
  if (lightStartMin === null) return bareArc(frame);
  const course = courseAhead(lightStartMin, infusionMin ?? lightStartMin);
  const marks = dayMarks(course, 0).filter(({ kind }) => infusionMin !== null || kind === 'light window');
  const stretches = infusionMin === null ? [] : dayStretches(course, 0);
  return { ...drawnOn(daySpan(course, 0), course.lightDueAtMs, marks, stretches, frame), now: null };
}

function bareArc(frame: ArcFrame): ArcLayout {
  const bow = bowIn(frame, USUAL_WINDOW);
  const way = stretchPath(bow, 0, 1);
  return { bow, linePx: linePx(frame), way, stretches: [], ticks: [], window: null, now: null, labels: [] };
}

/** Where the window stands on most days, of the way. */
const USUAL_WINDOW = 15 / 20;

const MINUTE_MS = 60_000;

/** The clock has fractions of a millisecond, and what stands beside the arc has none. */
const wholeMinutes = ({ fromAtMs, toAtMs }: DaySpan): number => Math.round((toAtMs - fromAtMs) / MINUTE_MS);

function drawnOn(
  span: DaySpan,
  lightDueAtMs: number,
  marks: readonly DayMark[],
  stretches: readonly Stretch[],
  frame: ArcFrame,
): Omit<ArcLayout, 'now'> {
  const bow = bowIn(frame, fractionAt(span, lightDueAtMs));
  const onBow = (atMs: number): Point => pointOn(bow, fractionAt(span, atMs));
  const window = windowAt(onBow(lightDueAtMs), frame);
  const ticks = marks.filter(({ kind }) => kind !== 'light window');
  return {
    bow,
    linePx: linePx(frame),
    way: stretchPath(bow, 0, 1),
    stretches: stretches.map(({ kind, fromAtMs, toAtMs }) => ({
      kind,
      path: stretchPath(bow, fractionAt(span, fromAtMs), fractionAt(span, toAtMs)),
    })),
    ticks: ticks.map(({ kind, atMs, firm }) => ({ kind, at: onBow(atMs), firm })),
    window,
    labels: arcLabels({ bow, frame, window, marks, onBow, minutes: wholeMinutes(span) }),
  };
}

const linePx = ({ letterPx, compact }: ArcFrame): number => letterPx * (compact ? 0.2 : 0.24);

/** The window is this many letters high; it stands clear of the line, so that the dot passes below it. */
const WINDOW_LETTERS = 2.5;
const WINDOW_SHAPE = 0.76;

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
