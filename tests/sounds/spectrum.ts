import Fft from 'fft.js';
import { decibels, type Sound } from './sound-files.ts';

/** Lines of a spectrum, as powers, `stepHz` apart from 0 on. */
export interface Spectrum {
  readonly stepHz: number;
  readonly powers: readonly number[];
}

/** Finer than a sixth of a tone at the lowest pitch there is. */
const LINES = 8192;
const FFT = new Fft(LINES);

/** The spectrum of a stretch of sound under a Hann window; a short stretch is filled up with silence. */
export function spectrumOf({ samples, rateHz }: Sound, first = 0, count = samples.length): Spectrum {
  const length = Math.min(count, LINES);
  const window = Array.from({ length: LINES }, (_, at) =>
    at < length ? (samples[first + at] ?? 0) * (0.5 - 0.5 * Math.cos((2 * Math.PI * at) / length)) : 0,
  );
  const out = FFT.createComplexArray();
  FFT.realTransform(out, window);
  const scale = 2 / (length * length * 0.375) / (LINES / length);
  const powers = Array.from({ length: LINES / 2 }, (_, line) => {
    const [re = 0, im = 0] = [out[2 * line], out[2 * line + 1]];
    return (re * re + im * im) * scale;
  });
  return { stepHz: rateHz / LINES, powers };
}

/** The power from one frequency to another. */
export function powerBetween({ stepHz, powers }: Spectrum, fromHz: number, toHz: number): number {
  const lines = powers.slice(Math.max(1, Math.round(fromHz / stepHz)), Math.round(toHz / stepHz));
  return lines.reduce((sum, power) => sum + power, 0);
}

/** The strongest tone from 60 to 3000 Hz, between the lines of the spectrum. */
export function strongestHz({ stepHz, powers }: Spectrum): number {
  const from = Math.round(60 / stepHz);
  const heard = powers.slice(from, Math.round(3000 / stepHz));
  const at = from + heard.indexOf(Math.max(...heard));
  const [before = 0, top = 1, after = 0] = [powers[at - 1], powers[at], powers[at + 1]].map((one = 0) => Math.log(one));
  return (at + (before - after) / (2 * (before - 2 * top + after))) * stepHz;
}

/** Frequency weighting A in decibels, by thirds of an octave: table 3 of IEC 61672-1 (values from memory, verify). */
export const A_WEIGHTS: readonly (readonly [hz: number, db: number])[] = [
  [50, -30.2],
  [63, -26.2],
  [80, -22.5],
  [100, -19.1],
  [125, -16.1],
  [160, -13.4],
  [200, -10.9],
  [250, -8.6],
  [315, -6.6],
  [400, -4.8],
  [500, -3.2],
  [630, -1.9],
  [800, -0.8],
  [1000, 0],
  [1250, 0.6],
  [1600, 1],
  [2000, 1.2],
  [2500, 1.3],
  [3150, 1.2],
  [4000, 1],
  [5000, 0.5],
  [6300, -0.1],
  [8000, -1.1],
  [10_000, -2.5],
  [12_500, -4.3],
];

/** A-weighted level of what is heard of a sound, dB of full scale; pauses are left out. By the table, band by band. */
export function loudnessDb(sound: Sound): number {
  const window = Math.round(sound.rateHz * 0.05);
  const starts = Array.from({ length: Math.floor(sound.samples.length / window) }, (_, index) => index * window);
  const powers = starts.map((first) => weighted(spectrumOf(sound, first, window)));
  const heard = powers.filter((power) => power > Math.max(...powers) / 100);
  return decibels(Math.sqrt(heard.reduce((sum, power) => sum + power, 0) / heard.length));
}

const weighted = (spectrum: Spectrum): number =>
  A_WEIGHTS.reduce((sum, [hz, db]) => {
    const band = powerBetween(spectrum, hz * 2 ** (-1 / 6), hz * 2 ** (1 / 6));
    return sum + band * 10 ** (db / 10);
  }, 0);
