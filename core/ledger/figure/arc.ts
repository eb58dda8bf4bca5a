import { n, path } from './drawn-shapes.ts';

/** Where the arc stands: its left foot, how wide it is, and the horizon. */
interface Bow {
  readonly leftX: number;
  readonly width: number;
  readonly footY: number;
}

/** The day arc in small: the bow from horizon to horizon, its window, and the lit dot where the light began. */
export function drawArc(
  bow: Bow,
  windowShare: number | null,
  lightShare: number | null,
  { ink, lamp }: { readonly ink: string; readonly lamp: string },
): string {
  const { leftX, width, footY } = bow;
  const radius = n(radiusOf(bow));
  const parts = [
    path(`M ${n(leftX)} ${n(footY)} A ${radius} ${radius} 0 0 1 ${n(leftX + width)} ${n(footY)}`, 'none', ink),
  ];
  if (windowShare !== null) {
    const { x, y } = pointOn(bow, windowShare);
    parts.push(path(`M ${n(x - 4)} ${n(y + 5)} v -6 a 4 4 0 0 1 8 0 v 6 Z`, 'none', lamp));
  }
  if (lightShare !== null) {
    const { x, y } = pointOn(bow, lightShare);
    parts.push(`<circle cx="${n(x)}" cy="${n(y)}" r="2.5" fill="${lamp}"/>`);
  }
  return parts.join('');
}

/** Part of a circle that is a third as high as it is wide. */
const riseOf = ({ width }: Bow): number => width / 3;

const radiusOf = (bow: Bow): number => ((bow.width / 2) ** 2 + riseOf(bow) ** 2) / (2 * riseOf(bow));

/** Equal spans of time are equal lengths of the arc. */
function pointOn(bow: Bow, share: number): { x: number; y: number } {
  const radius = radiusOf(bow);
  const halfAngle = Math.asin(bow.width / 2 / radius);
  const angle = (Math.min(1, Math.max(0, share)) * 2 - 1) * halfAngle;
  return {
    x: bow.leftX + bow.width / 2 + radius * Math.sin(angle),
    y: bow.footY - riseOf(bow) + radius - radius * Math.cos(angle),
  };
}
