/** How large something looks to an eye: the angle that its height takes, in minutes of arc. Plain geometry. */

const ARC_MINUTES_PER_RADIAN = (180 * 60) / Math.PI;

/** Minutes of arc that a height takes at a distance. Throws RangeError where either is not above 0. */
export function arcMinutes(heightMm: number, distanceM: number): number {
  return 2 * Math.atan(above0('a height in mm', heightMm) / 2 / distanceMm(distanceM)) * ARC_MINUTES_PER_RADIAN;
}

/** Height in mm that takes so many minutes of arc at a distance. Throws RangeError where either is not above 0. */
export function heightMmFor(arcMin: number, distanceM: number): number {
  return 2 * distanceMm(distanceM) * halfTangent(arcMin);
}

/** The farthest, in m, that a height still takes so many minutes of arc. Throws RangeError where either is not above 0. */
export function farthestM(heightMm: number, arcMin: number): number {
  return above0('a height in mm', heightMm) / 2 / halfTangent(arcMin) / 1000;
}

const halfTangent = (arcMin: number): number =>
  Math.tan(above0('an angle in minutes of arc', arcMin) / ARC_MINUTES_PER_RADIAN / 2);

const distanceMm = (distanceM: number): number => above0('a distance in m', distanceM) * 1000;

function above0(what: string, amount: number): number {
  if (!(amount > 0) || !Number.isFinite(amount)) throw new RangeError(`${what} is above 0, not ${amount}`);
  return amount;
}
