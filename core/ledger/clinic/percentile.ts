/**
 * The percentile of a sample by linear interpolation between its order statistics: definition 7 of Hyndman and Fan,
 * The American Statistician 1996;50:361-365, known as R-7. With n values in order, x[0] to x[n-1], and h = (n - 1) p,
 * it lies the fractional part of h of the way from x[floor h] to the next.
 *
 * @param sorted values in ascending order.
 * @param p share of the sample, 0 to 1: 0.5 is the median.
 * @throws RangeError where there are no values, or `p` is no share.
 */
export function percentile(sorted: readonly number[], p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`A percentile is asked for by a share from 0 to 1, not by ${p}.`);
  const place = (sorted.length - 1) * p;
  const below = sorted[Math.floor(place)];
  const above = sorted[Math.ceil(place)];
  if (below === undefined || above === undefined) throw new RangeError('There is no percentile of no values.');
  return below + (place - Math.floor(place)) * (above - below);
}
