import { aWeight } from './a-weighting.mjs';
import { wavOf } from './wav.mjs';

export const TONE_RATE_HZ = 24_000;

/** A note swells, falls a little while it is held, and dies away. */
const ATTACK_S = 0.05;
const RELEASE_S = 0.1;
const HELD_TO = 0.9;

/** Silence after the last note, so that a player that cuts the end short cuts nothing. */
const TAIL_S = 0.05;

/** Every note is as loud as every other: its A-weighted amplitude, root of the mean square, of full scale 1. */
const LOUDNESS = 0.12;

/** The WAV file of a row of the tone table. The same bytes on every machine. */
export function toneWav({ notes, colour }) {
  const placed = notes.map((note, index) => ({ ...note, startS: startOf(notes, index) }));
  const endS = Math.max(...placed.map(({ startS, lengthS }) => startS + lengthS));
  const samples = new Float64Array(Math.round((endS + TAIL_S) * TONE_RATE_HZ));
  for (const note of placed) addNote(samples, note, colour);
  return wavOf(samples, TONE_RATE_HZ);
}

const startOf = (notes, index) =>
  notes.slice(0, index).reduce((sum, { lengthS }) => sum + lengthS, 0) +
  notes.slice(0, index + 1).reduce((sum, { afterS }) => sum + afterS, 0);

function addNote(samples, { hz, startS, lengthS }, colour) {
  const first = Math.round(startS * TONE_RATE_HZ);
  const count = Math.round(lengthS * TONE_RATE_HZ);
  const gain = LOUDNESS / loudnessOf(hz, colour);
  for (let i = 0; i < count; i += 1) {
    const atS = i / TONE_RATE_HZ;
    const turns = turnsAt(hz, lengthS, atS);
    const wave = colour.reduce((sum, level, index) => sum + level * sine(turns * (index + 1)), 0);
    samples[first + i] += gain * envelope(atS, lengthS) * wave;
  }
}

/** A-weighted loudness of a held note of level 1; of a glide, that half way between its pitches. */
function loudnessOf(hz, colour) {
  const squares = hz.map((one) => {
    const weighted = colour.map((level, index) => level * aWeight(one * (index + 1)));
    return weighted.reduce((sum, level) => sum + (level * level) / 2, 0);
  });
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
}

/** Turns of the fundamental after so many seconds: a glide goes from pitch to pitch in equal times, evenly in hertz. */
function turnsAt(hz, lengthS, atS) {
  if (hz.length === 1) return hz[0] * atS;
  const legS = lengthS / (hz.length - 1);
  let turns = 0;
  for (let leg = 0; leg < hz.length - 1; leg += 1) {
    const [from, to] = [hz[leg], hz[leg + 1]];
    const inS = Math.min(Math.max(atS - leg * legS, 0), legS);
    turns += from * inS + ((to - from) * inS * inS) / (2 * legS);
  }
  return turns;
}

function envelope(atS, lengthS) {
  const heldS = lengthS - ATTACK_S - RELEASE_S;
  if (atS < ATTACK_S) return swell(atS / ATTACK_S);
  if (atS < ATTACK_S + heldS) return 1 - (1 - HELD_TO) * ((atS - ATTACK_S) / heldS);
  return HELD_TO * swell((lengthS - atS) / RELEASE_S);
}

/** From 0 to 1 with no corner at either end. */
const swell = (part) => (1 - sine(part / 2 + 0.25)) / 2;

/** The sine of an angle in turns, by its series: `Math.sin` may differ in its last digit between engines. */
function sine(turns) {
  const part = turns - Math.floor(turns + 0.5);
  const folded = part > 0.25 ? 0.5 - part : part < -0.25 ? -0.5 - part : part;
  const angle = folded * 2 * Math.PI;
  let term = angle;
  let sum = angle;
  for (let n = 3; n <= 17; n += 2) {
    term *= -(angle * angle) / (n * (n - 1));
    sum += term;
  }
  return sum;
}
