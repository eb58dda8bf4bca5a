import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, test } from 'vitest';
import { SOUNDS } from '../../core/procedure/cues.ts';

interface TableNote {
  readonly hz: number;
  readonly startS: number;
  readonly lengthS: number;
  readonly level: number;
}

interface SoundScript {
  readonly SOUNDS_FOLDER: string;
  readonly SOUND_TABLE: readonly { id: string; harmonics: readonly number[]; notes: readonly TableNote[] }[];
  readonly renderSound: (id: string) => Buffer;
  readonly writeSounds: (folder: string) => void;
  readonly differences: (folder: string) => string[];
}

const SCRIPT = fileURLToPath(new URL('../../build/sounds.mjs', import.meta.url));
const { SOUND_TABLE, SOUNDS_FOLDER, renderSound, writeSounds, differences }: SoundScript = await import(SCRIPT);

/** A note as it is heard in the file: nothing of the table is used to find it. */
interface HeardNote {
  readonly first: number;
  readonly end: number;
  readonly lengthS: number;
  readonly hz: number;
}

interface Heard {
  readonly id: string;
  readonly rate: number;
  readonly samples: readonly number[];
  readonly notes: readonly HeardNote[];
}

const BAND_HZ = { min: 150, max: 1000 };
/** A sixth of a tone apart is one pitch. */
const SAME_PITCH = 1.02;
/** Lengths nearer than this are one length. */
const SAME_LENGTH = 1.15;

const heard = SOUND_TABLE.map(({ id }) => listen(id));
const eachHeard = heard.map((sound) => [sound.id, sound] as const);
const eachNote = heard.flatMap((sound) =>
  sound.notes.map((note, index) => [`${sound.id}, note ${index + 1}`, sound, note] as const),
);

describe('the files', () => {
  test.each(SOUND_TABLE.map(({ id }) => id))('%s is what the script makes, byte for byte', (id) => {
    expect(readFileSync(join(SOUNDS_FOLDER, `${id}.wav`)).equals(renderSound(id))).toBe(true);
  });

  test('there is one for every cue and for the sound check, and no other', () => {
    const files = ['sound-check', ...SOUNDS].map((id) => `${id}.wav`).sort();
    expect(readdirSync(SOUNDS_FOLDER).filter((name) => name.endsWith('.wav'))).toEqual(files);
  });

  test.each(SOUND_TABLE.map(({ id }) => id))('%s is PCM, 16 bit, mono, 24 kHz', (id) => {
    const wav = readFileSync(join(SOUNDS_FOLDER, `${id}.wav`));
    expect(wav.toString('latin1', 0, 4) + wav.toString('latin1', 8, 16)).toBe('RIFFWAVEfmt ');
    expect(wav.readUInt32LE(4)).toBe(wav.length - 8);
    expect([20, 22, 32, 34].map((at) => wav.readUInt16LE(at))).toEqual([1, 1, 2, 16]);
    expect([24, 28].map((at) => wav.readUInt32LE(at))).toEqual([24_000, 48_000]);
    expect(wav.readUInt32LE(40)).toBe(wav.length - 44);
  });
});

describe('the check of the files', () => {
  const folders: string[] = [];
  const written = (): string => {
    const folder = mkdtempSync(join(tmpdir(), 'sounds-'));
    folders.push(folder);
    writeSounds(folder);
    return folder;
  };

  afterEach(() => {
    for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
  });

  test('says nothing of what was just written', () => {
    expect(differences(written())).toEqual([]);
  });

  test('names a file with one bit changed, a missing one and one too many', () => {
    const folder = written();
    const changed = readFileSync(join(folder, 'exposure-end.wav'));
    changed.writeUInt8(changed.readUInt8(9000) ^ 1, 9000);
    writeFileSync(join(folder, 'exposure-end.wav'), changed);
    copyFileSync(join(folder, 'infusion-end.wav'), join(folder, 'other.wav'));
    rmSync(join(folder, 'infusion-end.wav'));
    expect(differences(folder)).toEqual([
      'infusion-end.wav is missing: run "npm run sounds"',
      'exposure-end.wav is not what build/sounds.mjs makes: run "npm run sounds"',
      'other.wav is not made by build/sounds.mjs: take it away',
    ]);
  });

  test('the command passes on the files kept, and writes nothing on a slip of its option', () => {
    expect(spawnSync(process.execPath, [SCRIPT, '--check']).status).toBe(0);
    expect(spawnSync(process.execPath, [SCRIPT, '--chek']).status).toBe(2);
  });

  test('a sound that is not there is refused', () => {
    expect(() => renderSound('no-such')).toThrow('There is no sound "no-such"');
  });
});

describe('each note', () => {
  test.each(eachNote)(
    '%s: its fundamental is within the band and there is nothing below it',
    (_, { rate, samples }, n) => {
      expect(n.hz).toBeGreaterThanOrEqual(BAND_HZ.min);
      expect(n.hz).toBeLessThanOrEqual(BAND_HZ.max);
      expect(strength(samples, n, rate, n.hz / 2)).toBeLessThan(strength(samples, n, rate, n.hz) / 100);
    },
  );

  test.each(eachNote)('%s: at least three harmonics within 15 dB of it', (_, { rate, samples }, note) => {
    const fundamental = strength(samples, note, rate, note.hz);
    const audible = [2, 3, 4, 5, 6].filter(
      (times) => Math.abs(decibels(strength(samples, note, rate, note.hz * times) / fundamental)) <= 15,
    );
    expect(audible.length).toBeGreaterThanOrEqual(3);
  });

  test.each(eachNote)('%s: swells for 20 ms or more, and dies away no faster', (_, { rate, samples }, note) => {
    const levels = levelsOf(samples, rate).slice(note.first, note.end);
    const most = Math.max(...levels);
    const above = (part: number) => levels.findIndex((level) => level >= most * part);
    const last = (part: number) => levels.findLastIndex((level) => level >= most * part);
    expect((above(0.9) - above(0.1)) / rate).toBeGreaterThanOrEqual(0.02);
    expect((last(0.1) - last(0.8)) / rate).toBeGreaterThanOrEqual(0.02);
  });

  test.each(eachNote)('%s: begins and ends without a click', (_, { rate, samples }, note) => {
    const edge = Math.round(0.005 * rate);
    expect(largestJump(samples, note.first - edge, note.first + edge)).toBeLessThan(0.01);
    expect(largestJump(samples, note.end - edge, note.end + edge)).toBeLessThan(0.01);
  });

  test.each(eachNote)('%s: is held longer than the 0.25 s of an alarm pulse', (_, __, note) => {
    expect(note.lengthS).toBeGreaterThan(0.25);
  });
});

describe('each sound', () => {
  test.each(eachHeard)('%s: is heard as it stands in the table', (id, { notes }) => {
    const table = SOUND_TABLE.find((row) => row.id === id)?.notes ?? [];
    expect(notes.length).toBe(table.length);
    notes.forEach((note, index) => {
      expect(Math.abs(note.hz - (table[index]?.hz ?? 0))).toBeLessThan(2);
    });
  });

  test.each(eachHeard)('%s: lasts 0.8 to 2.5 s and peaks at -9 dBFS', (_, { samples, rate }) => {
    expect(samples.length / rate).toBeGreaterThanOrEqual(0.8);
    expect(samples.length / rate).toBeLessThanOrEqual(2.5);
    expect(decibels(Math.max(...samples.map(Math.abs)))).toBeCloseTo(-9, 1);
  });

  test.each(eachHeard)('%s: has no jump between samples', (_, { samples }) => {
    expect(largestJump(samples, 0, samples.length)).toBeLessThan(0.25);
    expect(Math.abs(samples[0] ?? 1)).toBeLessThan(0.001);
    expect(samples.at(-1)).toBe(0);
  });

  test.each(eachHeard)('%s: is no alarm burst', (_, { notes }) => {
    expect([1, 2, 4]).toContain(notes.length);
    for (const [one, two, three] of runsOf(notes, 3)) {
      if (one === undefined || two === undefined || three === undefined) continue;
      const ofOneLength =
        isSame(one.lengthS, two.lengthS, SAME_LENGTH) && isSame(two.lengthS, three.lengthS, SAME_LENGTH);
      const ofOnePitch = isSame(one.hz, two.hz, SAME_PITCH) && isSame(two.hz, three.hz, SAME_PITCH);
      expect(ofOneLength || ofOnePitch).toBe(false);
    }
  });

  test.each(eachHeard)('%s: has no alarm melody in it, in any key', (_, { notes }) => {
    const steps = stepsOf(notes);
    for (const melody of ALARM_MELODIES) {
      expect(runsOf(steps, melody.length).map(String)).not.toContain(String(melody));
    }
    expect(steps).not.toEqual(LOW_PRIORITY_STEPS);
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

describe('told apart', () => {
  const pairs = heard.flatMap((one, index) =>
    heard.slice(index + 1).map((other) => [`${one.id} and ${other.id}`, one, other] as const),
  );

  test.each(pairs)('%s: by the rhythm', (_, one, other) => {
    expect(rhythmOf(one)).not.toBe(rhythmOf(other));
  });

  test.each(pairs)('%s: by the contour of the pitch', (_, one, other) => {
    expect(contourOf(one)).not.toBe(contourOf(other));
  });
});

const rhythmOf = ({ notes }: Heard): string => {
  const shortest = Math.min(...notes.map(({ lengthS }) => lengthS));
  return notes.map(({ lengthS }) => (isSame(lengthS, shortest, SAME_LENGTH) ? 'short' : 'long')).join(' ');
};

const contourOf = ({ notes }: Heard): string =>
  ['from', ...stepsOf(notes).map((step) => (step === 0 ? 'level' : step > 0 ? 'up' : 'down'))].join(' ');

/** The steps from note to note, in semitones. */
const stepsOf = (notes: readonly HeardNote[]): number[] =>
  runsOf(notes, 2).map(([one, two]) => Math.round(12 * Math.log2((two?.hz ?? 0) / (one?.hz ?? 1))) + 0);

const runsOf = <T>(list: readonly T[], count: number): T[][] =>
  list.slice(0, Math.max(0, list.length - count + 1)).map((_, index) => list.slice(index, index + count));

const isSame = (one: number, other: number, factor: number): boolean =>
  Math.max(one, other) / Math.min(one, other) <= factor;

const decibels = (ratio: number): number => 20 * Math.log10(ratio);

function listen(id: string): Heard {
  const wav = readFileSync(join(SOUNDS_FOLDER, `${id}.wav`));
  const rate = wav.readUInt32LE(24);
  const samples = Array.from({ length: (wav.length - 44) / 2 }, (_, index) => wav.readInt16LE(44 + index * 2) / 32_768);
  return { id, rate, samples, notes: notesIn(samples, rate) };
}

/** Notes are what stands between silences. A note is as long as it is at half its level or more. */
function notesIn(samples: readonly number[], rate: number): HeardNote[] {
  const levels = levelsOf(samples, rate);
  const bounds = levels.map((level) => level > 0.001);
  const firsts = bounds.flatMap((isLoud, index) => (isLoud && bounds[index - 1] !== true ? [index] : []));
  return firsts.map((first) => {
    const silent = bounds.indexOf(false, first);
    const end = silent === -1 ? bounds.length : silent;
    const own = levels.slice(first, end);
    const half = Math.max(...own) / 2;
    const lengthS = (own.findLastIndex((level) => level >= half) - own.findIndex((level) => level >= half)) / rate;
    return { first, end, lengthS, hz: fundamentalOf(samples, { first, end }, rate) };
  });
}

/** The level around each sample: the largest within 2 ms either way. */
function levelsOf(samples: readonly number[], rate: number): number[] {
  const reach = Math.round(0.002 * rate);
  return samples.map((_, index) => {
    let most = 0;
    for (let at = Math.max(0, index - reach); at <= Math.min(samples.length - 1, index + reach); at += 1) {
      most = Math.max(most, Math.abs(samples[at] ?? 0));
    }
    return most;
  });
}

type Span = Pick<HeardNote, 'first' | 'end'>;

/** The strongest tone from 60 to 3000 Hz: by steps of 2 Hz, then finer around the best. */
function fundamentalOf(samples: readonly number[], span: Span, rate: number): number {
  const coarse = strongest(samples, span, rate, { fromHz: 60, toHz: 3000, stepHz: 2 });
  return strongest(samples, span, rate, { fromHz: coarse - 2, toHz: coarse + 2, stepHz: 0.1 });
}

function strongest(
  samples: readonly number[],
  span: Span,
  rate: number,
  { fromHz, toHz, stepHz }: { fromHz: number; toHz: number; stepHz: number },
): number {
  let best = { hz: fromHz, level: 0 };
  for (let hz = fromHz; hz <= toHz; hz += stepHz) {
    const level = strength(samples, span, rate, hz);
    if (level > best.level) best = { hz, level };
  }
  return best.hz;
}

/** How strong one tone is in the note, by Goertzel's recurrence under a Hann window. */
function strength(samples: readonly number[], { first, end }: Span, rate: number, hz: number): number {
  const count = end - first;
  const turn = (2 * Math.PI * hz) / rate;
  const factor = 2 * Math.cos(turn);
  let one = 0;
  let two = 0;
  for (let i = 0; i < count; i += 1) {
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / count);
    const next = (samples[first + i] ?? 0) * window + factor * one - two;
    two = one;
    one = next;
  }
  return Math.sqrt(Math.max(0, one * one + two * two - factor * one * two)) / count;
}

function largestJump(samples: readonly number[], from: number, to: number): number {
  let most = 0;
  for (let at = Math.max(1, from); at < Math.min(samples.length, to); at += 1) {
    most = Math.max(most, Math.abs((samples[at] ?? 0) - (samples[at - 1] ?? 0)));
  }
  return most;
}
