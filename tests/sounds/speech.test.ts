import { describe, expect, test } from 'vitest';
import { CUE_IDS, CUE_TABLE, SIGNALS, SIGNALS_SPOKEN } from '../../core/procedure/cue-table.ts';
import { LANGUAGES } from '../../core/settings/language.ts';
import { levelsOf } from './notes.ts';
import { decibels, peakOf, type Sound, secondsOf, soundAt } from './sound-files.ts';
import { loudnessDb, powerBetween, spectrumOf } from './spectrum.ts';

const spoken = LANGUAGES.flatMap((language) => [
  ...CUE_IDS.map((id) => ({ language, id: id as string, words: CUE_TABLE[id].spoken[language] })),
  ...SIGNALS.map((id) => ({ language, id: id as string, words: SIGNALS_SPOKEN[id][language] })),
]).map((one) => ({ ...one, sound: soundAt(`spoken/${one.language}/${one.id}`) }));

describe.each(spoken)('"$words" ($language)', ({ words, sound }) => {
  test('takes as long as such words take, and no longer than a cue may', () => {
    const letters = words.match(/\p{L}/gu)?.length ?? 0;
    expect(secondsOf(sound) / letters).toBeGreaterThan(0.045);
    expect(secondsOf(sound) / letters).toBeLessThan(0.16);
    expect(secondsOf(sound)).toBeLessThan(4);
  });

  test('rises and falls as speech does: at least one swell for every two words, and not one tone', () => {
    expect(swellsIn(sound)).toBeGreaterThanOrEqual(Math.ceil(words.split(' ').length / 2));
    expect(spread(sound)).toBeGreaterThan(500);
  });

  test('begins at once and ends in silence, without a click', () => {
    const levels = levelsOf(sound);
    const heard = levels.findIndex((level) => level > peakOf(sound) / 20);
    expect(heard / sound.rateHz).toBeLessThan(0.12);
    expect(Math.abs(sound.samples[0] ?? 1)).toBeLessThan(0.001);
    expect(sound.samples.slice(-0.04 * sound.rateHz).every((sample) => sample === 0)).toBe(true);
  });

  test('is as loud as all others, within 1 dB, and leaves room for a second sound at once', () => {
    expect(Math.abs(loudnessDb(sound) + 22)).toBeLessThan(1);
    expect(peakOf(sound)).toBeLessThan(0.5);
    expect(peakOf(sound)).toBeGreaterThan(0.2);
  });
});

test('words are a little softer than the tone before them, by less than 5 dB', () => {
  const tone = loudnessDb(soundAt('infusion-end'));
  const said = loudnessDb(soundAt('spoken/en/infusion-end'));
  expect(tone - said).toBeGreaterThan(0);
  expect(tone - said).toBeLessThan(5);
});

/** Syllables, or several that run together: peaks of the level over 60 ms that stand 3 dB above what is around them. */
function swellsIn(sound: Sound): number {
  const step = Math.round(0.02 * sound.rateHz);
  const levels = Array.from({ length: Math.floor(sound.samples.length / step) }, (_, index) => {
    const window = sound.samples.slice(Math.max(0, index * step - step), index * step + 2 * step);
    return Math.sqrt(window.reduce((sum, sample) => sum + sample * sample, 0) / window.length);
  });
  const floor = Math.max(...levels) / 30;
  let swells = 0;
  let low = floor;
  let high = 0;
  for (const level of levels) {
    if (high > 0 && decibels(high / Math.max(level, floor)) > 3) {
      swells += 1;
      high = 0;
      low = Math.max(level, floor);
    }
    low = Math.min(low, Math.max(level, floor));
    if (decibels(level / low) > 3) high = Math.max(high, level);
  }
  return swells;
}

/** How far the middle of the spectrum wanders between vowels and consonants, Hz. */
function spread(sound: Sound): number {
  const window = Math.round(0.03 * sound.rateHz);
  const starts = Array.from({ length: Math.floor(sound.samples.length / window) }, (_, index) => index * window);
  const middles = starts.flatMap((first) => {
    const spectrum = spectrumOf(sound, first, window);
    const all = powerBetween(spectrum, 100, 8000);
    if (all < 1e-6) return [];
    const weighed = spectrum.powers.reduce((sum, power, line) => sum + power * line * spectrum.stepHz, 0);
    return [weighed / all];
  });
  return Math.max(...middles) - Math.min(...middles);
}
