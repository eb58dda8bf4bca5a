import type { DrawnBox } from './drawn-boxes.ts';

interface Monitor {
  readonly width: number;
  readonly height: number;
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** What runs out of a monitor, lies on something else, or has the arc's line through it. */
export function faultsOfBoxes(boxes: readonly DrawnBox[], arc: readonly Point[], monitor: Monitor): string[] {
  const crossed = boxes.filter((box) => !SHAPES_ON_ARC.test(box.what) && arc.some((point) => within(point, box)));
  return [
    ...boxes.filter((box) => !inside(box, monitor)).map(({ what }) => `"${what}" runs out`),
    ...overlaps(boxes),
    ...crossed.map(({ what }) => `the arc runs through "${what}"`),
  ];
}

const SHAPES_ON_ARC = /day-arc-now/;

/** Half a pixel is rounding. */
const LEAST_PX = 0.5;

const inside = ({ left, top, right, bottom }: DrawnBox, { width, height }: Monitor): boolean =>
  left >= -LEAST_PX && top >= -LEAST_PX && right <= width + LEAST_PX && bottom <= height + LEAST_PX;

const within = ({ x, y }: Point, { left, top, right, bottom }: DrawnBox): boolean =>
  x > left && x < right && y > top && y < bottom;

function overlaps(boxes: readonly DrawnBox[]): string[] {
  return boxes.flatMap((one, index) =>
    boxes
      .slice(index + 1)
      .filter((other) => across(one, other) > LEAST_PX && upright(one, other) > LEAST_PX)
      .map((other) => `"${one.what}" lies on "${other.what}"`),
  );
}

const across = (one: DrawnBox, other: DrawnBox): number =>
  Math.min(one.right, other.right) - Math.max(one.left, other.left);
const upright = (one: DrawnBox, other: DrawnBox): number =>
  Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
