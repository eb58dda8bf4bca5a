import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

/** Where the sounds are kept. */
export const SOUNDS_FOLDER = fileURLToPath(new URL('../assets/sounds/', import.meta.url));

export const SAMPLE_RATE = 24_000;

const SHORT = 0.4;
const LONG = 0.65;
const HELD = 1;

/** Levels of the fundamental and its harmonics. Strong ones, since hearing fades first at either end of the range. */
const HARMONICS = [1, 0.6, 0.45, 0.3, 0.2];

/**
 * The sounds. A note is its pitch, its start, its length with the release in it, and its level.
 * A sound has 1, 2 or 4 notes and never three alike in a row: a burst of three or five pulses is a medical alarm.
 */
export const SOUND_TABLE = [
  {
    id: 'sound-check',
    harmonics: HARMONICS,
    notes: [
      { hz: 293.66, startS: 0, lengthS: SHORT, level: 1 },
      { hz: 440, startS: 0.45, lengthS: LONG, level: 1 },
      { hz: 659.26, startS: 1.15, lengthS: SHORT, level: 0.9 },
      { hz: 440, startS: 1.6, lengthS: LONG, level: 1 },
    ],
  },
  {
    id: 'infusion-end',
    harmonics: HARMONICS,
    notes: [
      { hz: 440, startS: 0, lengthS: SHORT, level: 0.9 },
      { hz: 293.66, startS: 0.45, lengthS: HELD, level: 1 },
    ],
  },
  {
    id: 'light-window-2min',
    harmonics: HARMONICS,
    notes: [
      { hz: 392, startS: 0, lengthS: LONG, level: 1 },
      { hz: 392, startS: 0.8, lengthS: LONG, level: 1 },
    ],
  },
  {
    id: 'light-window-1min',
    harmonics: HARMONICS,
    notes: [{ hz: 493.88, startS: 0, lengthS: HELD, level: 1 }],
  },
  {
    id: 'light-window-open',
    harmonics: HARMONICS,
    notes: [
      { hz: 293.66, startS: 0, lengthS: SHORT, level: 0.9 },
      { hz: 392, startS: 0.45, lengthS: SHORT, level: 0.9 },
      { hz: 440, startS: 0.9, lengthS: LONG, level: 1 },
      { hz: 587.33, startS: 1.6, lengthS: LONG, level: 1 },
    ],
  },
  {
    id: 'exposure-end',
    harmonics: HARMONICS,
    notes: [
      { hz: 587.33, startS: 0, lengthS: LONG, level: 1 },
      { hz: 493.88, startS: 0.7, lengthS: SHORT, level: 0.9 },
      { hz: 392, startS: 1.15, lengthS: SHORT, level: 0.9 },
      { hz: 293.66, startS: 1.6, lengthS: LONG, level: 1 },
    ],
  },
  {
    id: 'second-eye-1min',
    harmonics: HARMONICS,
    notes: [
      { hz: 329.63, startS: 0, lengthS: HELD, level: 1 },
      { hz: 493.88, startS: 1.05, lengthS: SHORT, level: 1 },
    ],
  },
];

/** A note swells, falls a little while it is held, and dies away. */
const ATTACK_S = 0.05;
const RELEASE_S = 0.1;
const HELD_TO = 0.9;

/** Silence after the last note, so that a player that cuts the end short cuts nothing. */
const TAIL_S = 0.05;

/** -9 dBFS. */
const PEAK = 0.3548;
const FULL_SCALE = 32_767;

/** The WAV file of a sound: PCM, 16 bit, mono. The same bytes on every machine. */
export function renderSound(id) {
  const sound = SOUND_TABLE.find((row) => row.id === id);
  if (sound === undefined) throw new Error(`There is no sound "${id}"`);
  return wavOf(leveled(mixed(sound)));
}

function mixed({ notes, harmonics }) {
  const endS = Math.max(...notes.map(({ startS, lengthS }) => startS + lengthS));
  const samples = new Float64Array(Math.round((endS + TAIL_S) * SAMPLE_RATE));
  for (const { hz, startS, lengthS, level } of notes) {
    const first = Math.round(startS * SAMPLE_RATE);
    const count = Math.round(lengthS * SAMPLE_RATE);
    for (let i = 0; i < count; i += 1) {
      const atS = i / SAMPLE_RATE;
      samples[first + i] += level * envelope(atS, lengthS) * tone(hz * atS, harmonics);
    }
  }
  return samples;
}

const tone = (turns, harmonics) => harmonics.reduce((sum, level, index) => sum + level * sine(turns * (index + 1)), 0);

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

function leveled(samples) {
  const loudest = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  return samples.map((sample) => (sample / loudest) * PEAK);
}

const HEADER_BYTES = 44;
const SAMPLE_BYTES = 2;

function wavOf(samples) {
  const dataBytes = samples.length * SAMPLE_BYTES;
  const wav = Buffer.alloc(HEADER_BYTES + dataBytes);
  wav.write('RIFF', 0, 'latin1');
  wav.writeUInt32LE(HEADER_BYTES - 8 + dataBytes, 4);
  wav.write('WAVEfmt ', 8, 'latin1');
  wav.writeUInt32LE(16, 16);
  wav.writeUInt16LE(1, 20); // PCM
  wav.writeUInt16LE(1, 22); // one channel
  wav.writeUInt32LE(SAMPLE_RATE, 24);
  wav.writeUInt32LE(SAMPLE_RATE * SAMPLE_BYTES, 28);
  wav.writeUInt16LE(SAMPLE_BYTES, 32);
  wav.writeUInt16LE(SAMPLE_BYTES * 8, 34);
  wav.write('data', 36, 'latin1');
  wav.writeUInt32LE(dataBytes, 40);
  samples.forEach((sample, index) => {
    wav.writeInt16LE(Math.round(sample * FULL_SCALE), HEADER_BYTES + index * SAMPLE_BYTES);
  });
  return wav;
}

const fileOf = (id) => `${id}.wav`;

/** Writes every sound into a folder. */
export function writeSounds(folder = SOUNDS_FOLDER) {
  mkdirSync(folder, { recursive: true });
  for (const { id } of SOUND_TABLE) writeFileSync(join(folder, fileOf(id)), renderSound(id));
}

/** Everything in a folder that is not what this script makes, a sentence each. */
export function differences(folder = SOUNDS_FOLDER) {
  const made = SOUND_TABLE.map(({ id }) => fileOf(id));
  const kept = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.wav')) : [];
  const strays = kept.filter((name) => !made.includes(name));
  return [
    ...SOUND_TABLE.flatMap(({ id }) => {
      const name = fileOf(id);
      if (!kept.includes(name)) return [`${name} is missing: run "npm run sounds"`];
      if (renderSound(id).equals(readFileSync(join(folder, name)))) return [];
      return [`${name} is not what build/sounds.mjs makes: run "npm run sounds"`];
    }),
    ...strays.map((name) => `${name} is not made by build/sounds.mjs: take it away`),
  ];
}

/** Runs the command. Returns its exit status. */
function run(words) {
  if (words.length === 0) {
    writeSounds();
    console.error(`${SOUND_TABLE.length} sounds are written`);
    return 0;
  }
  if (words.length > 1 || words[0] !== '--check') {
    console.error('Use: node build/sounds.mjs [--check]');
    return 2;
  }
  const sentences = differences();
  for (const sentence of sentences) console.error(sentence);
  return sentences.length === 0 ? 0 : 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) process.exitCode = run(process.argv.slice(2));
