import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import Fft from 'fft.js';
import { SIGNALS, SOUNDS } from '../../core/procedure/cue-table.ts';
import { RECORDED_RATE } from './recorder.ts';

const SOUNDS_FOLDER = resolve(import.meta.dirname, '../../assets/sounds');
const HEADER_BYTES = 44;
/** Sounds are compared at a sixth of the recording's rate, where a search is quick, then placed at half of it. */
const COARSE = 6;
const FINE = 2;
const FFT_SIZE = 65_536;

export type Tone = (typeof SOUNDS)[number] | (typeof SIGNALS)[number];
export const TONES: readonly Tone[] = [...SOUNDS, ...SIGNALS];

export interface Recognised {
  readonly tone: Tone;
  /** The sample of the recording at which it begins. */
  readonly sample: number;
  readonly lengthS: number;
  /** 1 for the very sound, 0 for nothing like it. */
  readonly likeness: number;
  /** The likeness of the next best sound. */
  readonly nextLikeness: number;
}

interface Template {
  readonly tone: Tone;
  readonly lengthS: number;
  readonly coarse: Float32Array;
  readonly fine: Float32Array;
}

const templates: readonly Template[] = TONES.map(templateOf);

/**
 * Which sound is in a stretch of a recording, and where it begins: by correlation, in pattern and spectrum at once, with
 * every sound there is.
 */
export function recognise(samples: Float32Array, from: number, until: number): Recognised {
  const first = Math.max(0, from);
  const stretch = samples.subarray(first, Math.min(samples.length, until));
  const coarse = thinned(stretch, COARSE);
  const found = templates.map((template) => ({ template, ...bestPlace(coarse, template.coarse) }));
  const [best, next] = found.sort((one, other) => other.likeness - one.likeness);
  if (best === undefined) throw new Error('there is no sound to compare with');
  const { tone, lengthS, fine } = best.template;
  const sample = first + placed(thinned(stretch, FINE), fine, best.at * (COARSE / FINE)) * FINE;
  return { tone, sample, lengthS, likeness: best.likeness, nextLikeness: next?.likeness ?? 0 };
}

/** The file as the recording's rate would have it, every second and every sixth sample. */
function templateOf(tone: Tone): Template {
  const wav = readFileSync(resolve(SOUNDS_FOLDER, `${tone}.wav`));
  const rate = wav.readUInt32LE(24);
  if (rate * FINE !== RECORDED_RATE) throw new Error(`${tone}.wav has ${rate} samples a second`);
  const count = (wav.length - HEADER_BYTES) / 2;
  const fine = Float32Array.from({ length: count }, (_, at) => wav.readInt16LE(HEADER_BYTES + at * 2) / 32_768);
  return { tone, lengthS: count / rate, fine, coarse: thinned(fine, COARSE / FINE) };
}

/** Every nth sample, each the mean of n. */
function thinned(samples: Float32Array, every: number): Float32Array {
  return Float32Array.from({ length: Math.floor(samples.length / every) }, (_, index) => {
    let sum = 0;
    for (let at = index * every; at < (index + 1) * every; at += 1) sum += samples[at] ?? 0;
    return sum / every;
  });
}

/** Where a template lies in a stretch: the place of the largest normalised correlation. */
function bestPlace(stretch: Float32Array, template: Float32Array): { at: number; likeness: number } {
  const products = correlation(stretch, template);
  const templateEnergy = energyOf(template, 0, template.length);
  let energy = energyOf(stretch, 0, template.length);
  let best = { at: 0, likeness: 0 };
  for (let at = 0; at + template.length <= stretch.length; at += 1) {
    const likeness = Math.abs(products[at] ?? 0) / Math.sqrt(templateEnergy * Math.max(energy, 1e-3));
    if (likeness > best.likeness) best = { at, likeness };
    energy += (stretch[at + template.length] ?? 0) ** 2 - (stretch[at] ?? 0) ** 2;
  }
  return best;
}

function correlation(stretch: Float32Array, template: Float32Array): number[] {
  const fft = new Fft(FFT_SIZE);
  const [one, other] = [stretch, template].map((samples) => {
    const spectrum = fft.createComplexArray();
    const padded = Array.from({ length: FFT_SIZE }, (_, at) => samples[at] ?? 0);
    fft.realTransform(spectrum, padded);
    fft.completeSpectrum(spectrum);
    return spectrum;
  });
  const product = fft.createComplexArray();
  for (let at = 0; at < FFT_SIZE * 2; at += 2) {
    const [a = 0, b = 0] = [one?.[at], one?.[at + 1]];
    const [c = 0, d = 0] = [other?.[at], other?.[at + 1]];
    product[at] = a * c + b * d;
    product[at + 1] = b * c - a * d;
  }
  const turned = fft.createComplexArray();
  fft.inverseTransform(turned, product);
  return Array.from({ length: FFT_SIZE }, (_, at) => turned[at * 2] ?? 0);
}

/** The best place near a rough one, by the finer samples. */
function placed(stretch: Float32Array, template: Float32Array, near: number): number {
  const reach = COARSE * 2;
  let best = { at: near, product: Number.NEGATIVE_INFINITY };
  for (let at = Math.max(0, near - reach); at <= near + reach; at += 1) {
    let product = 0;
    for (let index = 0; index < template.length; index += 1)
      product += (template[index] ?? 0) * (stretch[at + index] ?? 0);
    if (product > best.product) best = { at, product };
  }
  return best.at;
}

function energyOf(samples: Float32Array, from: number, count: number): number {
  let sum = 0;
  for (let at = from; at < from + count; at += 1) sum += (samples[at] ?? 0) ** 2;
  return sum;
}
