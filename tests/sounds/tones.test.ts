import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { SIGNALS, SOUNDS } from '../../core/procedure/cue-table.ts';
import { largestJump, levelsOf, type Note, toneAt } from './notes.ts';
import { decibels, peakOf, secondsOf, soundAt } from './sound-files.ts';
import { A_WEIGHTS, loudnessDb, powerBetween, spectrumOf } from './spectrum.ts';

const A_WEIGHTING = fileURLToPath(new URL('../../build/sounds/a-weighting.mjs', import.meta.url));
const { aWeight }: { aWeight: (hz: number) => number } = await import(A_WEIGHTING);

const tones = [...SOUNDS, ...SIGNALS].map(toneAt);
const eachTone = tones.map((tone) => [tone.id, tone] as const);
const eachNote = tones.flatMap((tone) =>
  tone.notes.map((note, index) => [`${tone.id}, note ${index + 1}`, tone, note] as const),
);

/** Pulses of medical alarms: IEC 60601-1-8, 2006 with amendment 1, as cited by others; the standard was not seen. */
const ALARM_PULSE_S = { min: 0.075, max: 0.25 };
const ALARM_PAUSE_S = { min: 0.125, max: 0.25 };
const ALARM_BURSTS = [3, 5, 10];

describe('each note', () => {
  test.each(eachNote)('%s: its pitch is from 150 to 1000 Hz all the way, and nothing is below it', (_, tone, note) => {
    expect(Math.min(...note.hz)).toBeGreaterThanOrEqual(150);
    expect(Math.max(...note.hz)).toBeLessThanOrEqual(1000);
    const spectrum = middleOf(tone, note);
    const below = powerBetween(spectrum, 40, note.hz[1] * 0.7);
    expect(decibels(Math.sqrt(below / powerBetween(spectrum, 40, 12_000)))).toBeLessThan(-30);
  });

  test.each(eachNote)('%s: four harmonics or more from 300 to 4000 Hz, within 15 dB of it', (_, tone, note) => {
    const spectrum = middleOf(tone, note);
    const hz = note.hz[1];
    const around = (times: number) => powerBetween(spectrum, hz * (times - 0.4), hz * (times + 0.4));
    const heard = Array.from({ length: 12 }, (__, index) => index + 1).filter(
      (times) =>
        hz * times >= 300 && hz * times <= 4000 && Math.abs(decibels(Math.sqrt(around(times) / around(1)))) <= 15,
    );
    expect(heard.length).toBeGreaterThanOrEqual(4);
  });

  test.each(eachNote)('%s: swells for 20 ms or more, and dies away no faster', (_, tone, note) => {
    const levels = levelsOf(tone).slice(note.first, note.end);
    const most = Math.max(...levels);
    const above = (part: number) => levels.findIndex((level) => level >= most * part);
    const last = (part: number) => levels.findLastIndex((level) => level >= most * part);
    expect((above(0.9) - above(0.1)) / tone.rateHz).toBeGreaterThanOrEqual(0.02);
    expect((last(0.1) - last(0.8)) / tone.rateHz).toBeGreaterThanOrEqual(0.02);
  });

  test.each(eachNote)('%s: begins and ends without a click', (_, tone, { first, end }) => {
    const edge = Math.round(0.005 * tone.rateHz);
    expect(largestJump(tone, first - edge, first + edge)).toBeLessThan(0.01);
    expect(largestJump(tone, end - edge, end + edge)).toBeLessThan(0.01);
  });

  test.each(eachNote)(
    '%s: is longer than an alarm pulse, and so is the silence before it, or shorter',
    (_, __, note) => {
      expect(note.lengthS).toBeGreaterThan(ALARM_PULSE_S.max);
      expect(note.afterS < ALARM_PAUSE_S.min || note.afterS > ALARM_PAUSE_S.max).toBe(true);
    },
  );
});

describe('each sound', () => {
  test.each(eachTone)('%s: lasts 0.6 to 2.5 s and ends in silence', (_, tone) => {
    expect(secondsOf(tone)).toBeGreaterThanOrEqual(0.6);
    expect(secondsOf(tone)).toBeLessThanOrEqual(2.5);
    expect(tone.samples.slice(-0.04 * tone.rateHz).every((sample) => sample === 0)).toBe(true);
  });

  test.each(eachTone)('%s: has no jump between samples', (_, tone) => {
    expect(largestJump(tone)).toBeLessThan(0.25);
  });

  test.each(eachTone)('%s: needs next to nothing above 4 kHz', (_, tone) => {
    for (const note of tone.notes) {
      const spectrum = middleOf(tone, note);
      const high = powerBetween(spectrum, 4000, 12_000) / powerBetween(spectrum, 40, 12_000);
      expect(decibels(Math.sqrt(high))).toBeLessThan(-20);
    }
  });

  test.each(eachTone)('%s: is no alarm burst', (_, { notes }) => {
    expect(ALARM_BURSTS).not.toContain(notes.length);
    expect(notes.length).toBeLessThanOrEqual(4);
    for (const three of runsOf(notes, 3)) {
      const lengths = three.map(({ lengthS }) => lengthS);
      const pitches = three.map(({ hz }) => hz[1]);
      expect(Math.max(...lengths) / Math.min(...lengths)).toBeGreaterThan(1.15);
      expect(Math.max(...pitches) / Math.min(...pitches)).toBeGreaterThan(1.02);
    }
  });

  test.each(eachTone)('%s: has no alarm melody in it, in any key', (_, { notes }) => {
    const steps = runsOf(notes, 2).map(([one, two]) =>
      Math.round(12 * Math.log2((two?.hz[1] ?? 0) / (one?.hz[1] ?? 1))),
    );
    for (const melody of ALARM_MELODIES) {
      expect(runsOf(steps, melody.length).map(String)).not.toContain(String(melody));
    }
    expect(steps).not.toEqual(LOW_PRIORITY_STEPS);
  });

  test('is as loud as every other, within 1.5 dB, by the A-weighted levels', () => {
    const levels = tones.map(loudnessDb);
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThan(1.5);
  });

  test('two of them at once are not clipped', () => {
    expect(Math.max(...tones.map(peakOf))).toBeLessThan(0.5);
  });
});

/** The first three notes of the melodies for medical alarms, as steps in semitones. Those of five notes begin so too. */
const ALARM_MELODIES = [
  [0, 0],
  [4, 3],
  [6, -6],
  [9, -4],
  [-1, -2],
  [-2, -2],
  [2, 2],
  [-10, 5],
  [-12, 0],
];
const LOW_PRIORITY_STEPS = [-4];

test.each(A_WEIGHTS)('at %i Hz loudness is reckoned with %f dB, as tabled', (hz, db) => {
  expect(Math.abs(decibels(aWeight(nominalToExact(hz))) - db)).toBeLessThan(0.1);
});

test('what stands before a late cue is short, so that the cue itself is not much later', () => {
  expect(secondsOf(soundAt('late'))).toBeLessThan(0.8);
});

test('loudness as the tests measure it is that of a plain tone of known level', () => {
  const rateHz = 24_000;
  const samples = Array.from({ length: rateHz }, (_, at) => 0.1 * Math.sin((2 * Math.PI * 1000 * at) / rateHz));
  expect(loudnessDb({ rateHz, samples })).toBeCloseTo(decibels(0.1 / Math.SQRT2), 0);
});

/** Tabled weights belong to the exact thirds of a decade; 63 Hz stands for 63.1 Hz. */
const nominalToExact = (hz: number): number => 10 ** (Math.round(10 * Math.log10(hz)) / 10);

const middleOf = (tone: { samples: readonly number[]; rateHz: number }, { first, end }: Note) => {
  const count = Math.round(0.06 * tone.rateHz);
  return spectrumOf(tone, Math.round((first + end - count) / 2), count);
};

const runsOf = <T>(list: readonly T[], count: number): T[][] =>
  list.slice(0, Math.max(0, list.length - count + 1)).map((_, index) => list.slice(index, index + count));
