/** Half of the time over which a peak is taken down, so that nothing is heard of it. */
const REACH_S = 0.004;

/**
 * Takes down what is beyond a peak, a little before and after it too. Where nothing is, nothing changes. The least gain
 * near each sample, averaged over as many samples as it was looked for: so the average never lets more through.
 */
export function limited(samples, peak, rateHz) {
  const reach = Math.round(REACH_S * rateHz);
  const sums = runningSums(leastNear(samples, peak, reach));
  return samples.map((sample, at) => {
    const [first, end] = [Math.max(0, at - reach), Math.min(samples.length, at + reach + 1)];
    return sample * ((sums[end] - sums[first]) / (end - first));
  });
}

/** The gain that the loudest sample near each allows; few samples are beyond the peak. */
function leastNear(samples, peak, reach) {
  const least = new Float64Array(samples.length).fill(1);
  samples.forEach((sample, at) => {
    const allowed = peak / Math.abs(sample);
    if (allowed >= 1) return;
    for (let near = Math.max(0, at - reach); near <= Math.min(samples.length - 1, at + reach); near += 1) {
      least[near] = Math.min(least[near], allowed);
    }
  });
  return least;
}

function runningSums(values) {
  const sums = new Float64Array(values.length + 1);
  values.forEach((value, index) => {
    sums[index + 1] = sums[index] + value;
  });
  return sums;
}
