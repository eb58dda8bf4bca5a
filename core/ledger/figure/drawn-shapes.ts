import { BAR_HEIGHT } from './layout.ts';
import { type ItemKind, isSpan, type MarkKind, type SpanKind } from './shape.ts';

/** Colours and face of a drawing, as SVG attributes take them; custom properties of a style sheet among them. */
export interface FigureColours {
  readonly ink: string;
  readonly quiet: string;
  /** For the window and the light alone. */
  readonly lamp: string;
  /** Null leaves what lies behind. */
  readonly ground: string | null;
}

/**
 * Every meaning has a shape of its own, beside its colour: what is planned is an outline, what ran is filled, what
 * stood still is hatched, light is upright rays, and a sleep has a line through it.
 */
export function drawSpan(kind: SpanKind, x: number, y: number, width: number, colours: FigureColours): string {
  const shown = Math.max(1.5, width);
  if (kind === 'planned') return box(x, y, shown, 'none', colours.quiet);
  if (kind === 'held') return box(x, y, shown, 'none', colours.ink) + hatch(x, y, shown, colours.ink);
  if (kind === 'slept') return box(x, y, shown, 'none', colours.ink) + still(x, y, shown, colours.ink);
  if (kind === 'light') return box(x, y, shown, 'none', colours.lamp) + rays(x, y, shown, colours.lamp);
  return box(x, y, shown, colours.ink, colours.ink);
}

/** An end that is not known yet: an arrow on from it. */
export function drawOpenEnd(x: number, y: number, { ink }: FigureColours): string {
  const middle = y + BAR_HEIGHT / 2;
  return path(`M ${n(x + 2)} ${n(middle - 4)} L ${n(x + 7)} ${n(middle)} L ${n(x + 2)} ${n(middle + 4)}`, 'none', ink);
}

/** A mark in the middle of a bar's height, at `x`. */
export const drawMark = (kind: MarkKind, x: number, y: number, colours: FigureColours): string =>
  MARKS[kind](x, y, colours);

/** The shape of a kind as a key shows it, with its middle at `x`. */
export const drawSample = (kind: ItemKind, x: number, y: number, colours: FigureColours): string =>
  isSpan(kind) ? drawSpan(kind, x - 8, y, 16, colours) : drawMark(kind, x, y, colours);

type Draw = (x: number, y: number, colours: FigureColours) => string;

const MARKS: Record<MarkKind, Draw> = {
  window: (x, y, { lamp }) => windowShape(x, y, 'none', lamp),
  begun: (x, y, { lamp }) => windowShape(x, y, lamp, lamp),
  limit: (x, y, { ink }) => path(`M ${n(x - 3)} ${n(y)} h 3 v ${BAR_HEIGHT} h -3`, 'none', ink),
  skipped: (x, y, { ink }) => cross(x, y, ink) + box(x - 5, y - 0.5, 10, 'none', ink),
  sounded: (x, y, { ink }) => triangle(x, y, ink, ink),
  late: (x, y, { ink }) => triangle(x, y, 'none', ink),
  silent: (x, y, { ink }) => cross(x, y, ink),
  missing: (x, y, { ink }) => circle(x, y, ink, ' stroke-dasharray="2 2"'),
  're-based': (x, y, { ink }) =>
    path(`M ${n(x - 2)} ${n(y)} v ${BAR_HEIGHT} M ${n(x + 2)} ${n(y)} v ${BAR_HEIGHT}`, 'none', ink),
  'clock stepped': (x, y, { ink }) => path(`M ${n(x)} ${n(y - 1)} l 5 5.5 l -5 5.5 l -5 -5.5 Z`, 'none', ink),
  'zone changed': (x, y, { ink }) => circle(x, y, ink, ''),
};

/** A small window with a round head, as it stands on the day arc. */
function windowShape(x: number, y: number, fill: string, stroke: string): string {
  return path(`M ${n(x - 3)} ${n(y + BAR_HEIGHT)} v -6 a 3 3 0 0 1 6 0 v 6 Z`, fill, stroke);
}

const triangle = (x: number, y: number, fill: string, stroke: string): string =>
  path(`M ${n(x)} ${n(y)} l 4.5 ${BAR_HEIGHT} h -9 Z`, fill, stroke);

const cross = (x: number, y: number, stroke: string): string =>
  path(`M ${n(x - 3.5)} ${n(y + 1)} l 7 7 M ${n(x + 3.5)} ${n(y + 1)} l -7 7`, 'none', stroke);

const circle = (x: number, y: number, stroke: string, more: string): string =>
  `<circle cx="${n(x)}" cy="${n(y + BAR_HEIGHT / 2)}" r="4" fill="none" stroke="${stroke}"${more}/>`;

const box = (x: number, y: number, width: number, fill: string, stroke: string): string =>
  `<rect x="${n(x)}" y="${n(y)}" width="${n(width)}" height="${BAR_HEIGHT}" fill="${fill}" stroke="${stroke}"/>`;

/** Slanting lines within a bar, drawn as lines: a pattern would need a name that is unique in its document. */
function hatch(x: number, y: number, width: number, stroke: string): string {
  const lines: string[] = [];
  for (let foot = x - BAR_HEIGHT + 4; foot < x + width; foot += 4) {
    const from = Math.max(x, foot);
    const to = Math.min(x + width, foot + BAR_HEIGHT);
    lines.push(`M ${n(from)} ${n(y + BAR_HEIGHT - (from - foot))} L ${n(to)} ${n(y + BAR_HEIGHT - (to - foot))}`);
  }
  return path(lines.join(' '), 'none', stroke);
}

const still = (x: number, y: number, width: number, stroke: string): string =>
  path(`M ${n(x)} ${n(y + BAR_HEIGHT / 2)} h ${n(width)}`, 'none', stroke);

/** Upright lines within a bar. */
function rays(x: number, y: number, width: number, stroke: string): string {
  const lines: string[] = [];
  for (let at = x + 2; at < x + width; at += 3) lines.push(`M ${n(at)} ${n(y)} v ${BAR_HEIGHT}`);
  return path(lines.join(' '), 'none', stroke, 1.5);
}

/** A path with a line of `weight`. */
export const path = (d: string, fill: string, stroke: string, weight = 1): string =>
  `<path d="${d}" fill="${fill}" stroke="${stroke}"${weight === 1 ? '' : ` stroke-width="${weight}"`}/>`;

/** A length to a tenth, which is finer than anything prints. */
export const n = (length: number): string => String(Math.round(length * 10) / 10);
