import openSynthesiser from '@echogarden/espeak-ng-emscripten';
import { limited } from './limiter.mjs';
import { loudnessOf } from './loudness.mjs';
import { wavOf } from './wav.mjs';

/** Slower than talk, for a dim room with other sounds in it; words a minute. */
const PACE_WPM = 150;
/** From 0 to 99, 50 in the middle: a little low, since old ears hear low voices better. */
const PITCH = 40;

const FULL_SCALE = 32_768;

/** Quieter than this, of the loudest sample, is silence before or after the words. */
const SILENCE = 0.01;
const KEPT_S = 0.03;
const TAIL_S = 0.05;

/** A-weighted, of full scale 1: a little below the tones, which come first. */
const LOUDNESS = 0.08;
/** Below half of full scale: two may sound at once. */
const PEAK = 0.49;

/**
 * The WAV file of words spoken in a language. The same bytes every time: a synthesiser keeps some of what it said
 * before, so that each file has one of its own.
 */
export async function speechWav({ language, words }) {
  const { rateHz, samples } = await spoken(language, words);
  return wavOf(leveled(trimmed(samples, rateHz), rateHz), rateHz);
}

async function spoken(language, words) {
  const { eSpeakNGWorker: Synthesiser } = await openSynthesiser();
  const synthesiser = new Synthesiser();
  if (synthesiser.set_voice(language, '', 0, 0, 0) !== 0) throw new Error(`there is no voice for "${language}"`);
  synthesiser.set_rate(PACE_WPM);
  synthesiser.set_pitch(PITCH);
  const samples = [];
  synthesiser.synthesize(words, (part) => {
    for (const sample of part) samples.push(sample / FULL_SCALE);
    return false;
  });
  return { rateHz: synthesiser.get_samplerate(), samples };
}

function trimmed(samples, rateHz) {
  const floor = peakOf(samples) * SILENCE;
  const isHeard = (sample) => Math.abs(sample) > floor;
  const kept = Math.round(KEPT_S * rateHz);
  const first = Math.max(0, samples.findIndex(isHeard) - kept);
  const end = samples.findLastIndex(isHeard) + kept;
  const words = samples.slice(first, end);
  const edge = Math.min(kept, words.length);
  const faded = words.map((sample, at) => sample * Math.min(1, at / edge, (words.length - 1 - at) / edge));
  return [...faded, ...new Array(Math.round(TAIL_S * rateHz)).fill(0)];
}

/**
 * All words as loud as all others, though some have higher peaks: those are taken down. The factor is rounded, so that
 * the last digit of a sine decides nothing.
 */
function leveled(samples, rateHz) {
  let gain = 1;
  let words = samples;
  for (let round = 0; round < ROUNDS; round += 1) {
    gain = Math.round(gain * (LOUDNESS / loudnessOf(words, rateHz)) * 1000) / 1000;
    words = limited(
      samples.map((sample) => sample * gain),
      PEAK,
      rateHz,
    );
  }
  return words;
}

const ROUNDS = 4;

const peakOf = (samples) => samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
