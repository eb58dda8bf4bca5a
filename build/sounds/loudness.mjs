import Fft from 'fft.js';
import { aWeight } from './a-weighting.mjs';

const WINDOW = 1024;
const FFT = new Fft(WINDOW);
/** Windows quieter than this share of the loudest are pauses, and not counted. */
const PAUSE = 0.1;

/** A-weighted amplitude of what is heard, root of the mean square, of full scale 1; pauses left out. */
export function loudnessOf(samples, rateHz) {
  const powers = windowsOf(samples).map((window) => weightedPower(window, rateHz));
  const heard = powers.filter((power) => power > Math.max(...powers) * PAUSE * PAUSE);
  return Math.sqrt(heard.reduce((sum, power) => sum + power, 0) / heard.length);
}

function windowsOf(samples) {
  const count = Math.max(1, Math.floor((samples.length - WINDOW) / (WINDOW / 2)) + 1);
  return Array.from({ length: count }, (_, index) =>
    Array.from({ length: WINDOW }, (__, at) => hann(at) * (samples[index * (WINDOW / 2) + at] ?? 0)),
  );
}

const hann = (at) => 0.5 - 0.5 * Math.cos((2 * Math.PI * at) / WINDOW);
/** Mean of the squares of the window above. */
const HANN_POWER = 0.375;

/** By Parseval's theorem: the power of each line of the spectrum, both halves, weighted. */
function weightedPower(window, rateHz) {
  const lines = FFT.createComplexArray();
  FFT.realTransform(lines, window);
  let power = 0;
  for (let line = 1; line < WINDOW / 2; line += 1) {
    const [re, im] = [lines[2 * line], lines[2 * line + 1]];
    power += 2 * (re * re + im * im) * aWeight((line * rateHz) / WINDOW) ** 2;
  }
  return power / (WINDOW * WINDOW * HANN_POWER);
}
