/** Where instants lie on the day arc. Equal spans of time are equal lengths of arc. */

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A bow: part of a circle that stands on a horizon, `rise` high at its middle. Y grows downwards. */
export interface Bow {
  readonly leftX: number;
  readonly rightX: number;
  readonly horizonY: number;
  readonly radius: number;
  readonly centre: Point;
  /** Half of the angle that the bow takes at its centre, in radians. */
  readonly halfAngle: number;
}

/** The bow over a horizon. A rise above half the width is taken as half the width: no more than a half circle. */
export function bowOver(leftX: number, rightX: number, horizonY: number, rise: number): Bow {
  const half = Math.max(1, (rightX - leftX) / 2);
  const height = Math.min(half, Math.max(1, rise));
  const radius = (half * half + height * height) / (2 * height);
  const centre = { x: leftX + half, y: horizonY - height + radius };
  const halfAngle = height === half ? Math.PI / 2 : Math.asin(half / radius);
  return { leftX, rightX, horizonY, radius, centre, halfAngle };
}

/** The point that lies `fraction` of the way along, from the left foot (0) to the right (1). */
export function pointOn(bow: Bow, fraction: number): Point {
  const angle = (clamped(fraction) * 2 - 1) * bow.halfAngle;
  return { x: bow.centre.x + bow.radius * Math.sin(angle), y: bow.centre.y - bow.radius * Math.cos(angle) };
}

/** Height of the bow over a place on the horizon. */
export function bowY(bow: Bow, x: number): number {
  const aside = Math.min(Math.abs(x - bow.centre.x), bow.radius);
  return Math.min(bow.horizonY, bow.centre.y - Math.sqrt(bow.radius * bow.radius - aside * aside));
}

/** The highest that the bow comes between two places on the horizon. */
export function highestY(bow: Bow, fromX: number, toX: number): number {
  return bowY(bow, Math.min(Math.max(bow.centre.x, fromX), toX));
}

/** The stretch of the bow between two fractions, as an SVG path. */
export function stretchPath(bow: Bow, from: number, to: number): string {
  const start = pointOn(bow, from);
  const end = pointOn(bow, to);
  const radius = shown(bow.radius);
  return `M ${shown(start.x)} ${shown(start.y)} A ${radius} ${radius} 0 0 1 ${shown(end.x)} ${shown(end.y)}`;
}

/** The span that the arc stands for. */
export interface DaySpan {
  readonly fromAtMs: number;
  readonly toAtMs: number;
}

/** How far along the arc an instant lies, 0 to 1. */
export function fractionAt({ fromAtMs, toAtMs }: DaySpan, atMs: number): number {
  return clamped((atMs - fromAtMs) / (toAtMs - fromAtMs));
}

const clamped = (fraction: number): number => Math.min(1, Math.max(0, fraction));
const shown = (length: number): string => length.toFixed(2);
