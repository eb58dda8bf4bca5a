/**
 * How much a level at a frequency counts towards loudness, as a factor on the amplitude, 1 at 1 kHz: the A curve of
 * IEC 61672-1, from its four pole frequencies (from memory; the tests compare it with the tabled values). Plain
 * arithmetic, so that it gives the same on every machine.
 */
export const aWeight = (hz) => curve(hz) / curve(1000);

const POLES_HZ = [20.598997, 107.65265, 737.86223, 12194.217];

function curve(hz) {
  const [lowest, low, mid, high] = POLES_HZ.map((pole) => pole * pole);
  const square = hz * hz;
  return (high * square * square) / ((square + lowest) * Math.sqrt((square + low) * (square + mid)) * (square + high));
}
