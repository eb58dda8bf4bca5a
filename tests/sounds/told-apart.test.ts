import { describe, expect, test } from 'vitest';
import { SIGNALS, SOUNDS } from '../../core/procedure/cue-table.ts';
import { type HeardTone, toneAt } from './notes.ts';
import { powerBetween, type Spectrum, spectrumOf } from './spectrum.ts';

const tones = [...SOUNDS, ...SIGNALS].map(toneAt);
const pairs = tones.flatMap((one, index) =>
  tones.slice(index + 1).map((other) => [`${one.id} and ${other.id}`, one, other] as const),
);

describe('told apart', () => {
  test.each(pairs)('%s: by the rhythm', (_, one, other) => {
    expect(rhythmOf(one)).not.toBe(rhythmOf(other));
  });

  test.each(pairs)('%s: by the way the pitch goes', (_, one, other) => {
    expect(contourOf(one)).not.toBe(contourOf(other));
  });

  test.each(pairs)('%s: by what they are made of', (_, one, other) => {
    expect(likeness(semitonesOf(one), semitonesOf(other))).toBeLessThan(0.85);
  });
});

test('the likeness of a sound to itself is whole, so that the measure means something', () => {
  for (const tone of tones) expect(likeness(semitonesOf(tone), semitonesOf(tone))).toBeCloseTo(1, 6);
});

/** Lengths a listener can tell without a second to compare with. */
const LENGTHS = [
  [0.45, 'short'],
  [0.8, 'long'],
  [1.2, 'held'],
] as const;

const rhythmOf = ({ notes }: HeardTone): string =>
  notes.map(({ lengthS }) => LENGTHS.find(([lessThanS]) => lengthS < lessThanS)?.[1] ?? 'slow').join(' ');

/** Within each note, and from the end of one to the beginning of the next. */
const contourOf = ({ notes }: HeardTone): string =>
  [
    'from',
    ...notes.flatMap(({ hz }, index) => [...(index === 0 ? [] : [way(notes[index - 1]?.hz[2], hz[0])]), ...bend(hz)]),
  ].join(' ');

const bend = ([begin, middle, end]: readonly [number, number, number]): string[] => {
  const ways = [way(begin, middle), way(middle, end)];
  return ways.every((one) => one === 'level') ? ['held'] : ways.map((one) => `gliding ${one}`);
};

/** A sixth of a tone apart is one pitch. */
const SAME_PITCH = 1.02;

function way(from = 0, to = 0): string {
  if (Math.max(from, to) / Math.min(from, to) <= SAME_PITCH) return 'level';
  return to > from ? 'up' : 'down';
}

/** What a sound is made of over its whole length: amplitudes in bands of a semitone from 200 to 4000 Hz. */
function semitonesOf(tone: HeardTone): number[] {
  const window = Math.round(0.08 * tone.rateHz);
  const starts = Array.from({ length: Math.floor(tone.samples.length / window) }, (_, index) => index * window);
  const spectra = starts.map((first) => spectrumOf(tone, first, window));
  const bands = Array.from({ length: 52 }, (_, band) => 200 * 2 ** (band / 12));
  const power = (spectrum: Spectrum, hz: number) => powerBetween(spectrum, hz, hz * 2 ** (1 / 12));
  return bands.map((hz) => Math.sqrt(spectra.reduce((sum, spectrum) => sum + power(spectrum, hz), 0)));
}

/** 1 for the same colour and pitches, 0 for nothing in common. */
function likeness(one: readonly number[], other: readonly number[]): number {
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, value, at) => sum + value * (b[at] ?? 0), 0);
  return dot(one, other) / Math.sqrt(dot(one, one) * dot(other, other));
}
