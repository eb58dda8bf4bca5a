import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';

interface Sound {
  readonly id: string;
  readonly notes: readonly { readonly hz: number }[];
}
const SCRIPT = resolve(import.meta.dirname, '../../build/sounds.mjs');
const { SOUND_TABLE }: { SOUND_TABLE: readonly Sound[] } = await import(SCRIPT);

const HEADER_BYTES = 44;
const RATE = 48_000;
const WINDOW = RATE / 10;
/** Softer than this is silence. */
const AUDIBLE = 0.02;

/** The pitches of a sound, in order. */
export const pitchesOf = (id: string): number[] =>
  SOUND_TABLE.find((sound) => sound.id === id)?.notes.map(({ hz }) => hz) ?? [];

const EVERY_PITCH = [...new Set(SOUND_TABLE.flatMap(({ notes }) => notes.map(({ hz }) => hz)))];

/** A recording that is still being written: one channel of 16 bits, 48,000 a second. */
export function recording(file: string) {
  const samples = (from: number): Int16Array => {
    const bytes = new Uint8Array(readFileSync(file).subarray(HEADER_BYTES + from * 2));
    return new Int16Array(bytes.buffer, 0, Math.floor(bytes.length / 2));
  };
  return {
    /** How many samples there are by now. */
    length: (): number => samples(0).length,
    /** The pitches heard since a sample, each as long as it goes on given once; nothing for silence. */
    pitchesSince: (from: number): number[] => {
      const heard = windowsOf(samples(from)).map(pitchIn);
      return heard.filter((hz, index) => hz !== heard[index - 1]).filter((hz) => hz !== null);
    },
  };
}

function windowsOf(samples: Int16Array): Int16Array[] {
  const count = Math.floor(samples.length / WINDOW);
  return Array.from({ length: count }, (_, index) => samples.subarray(index * WINDOW, (index + 1) * WINDOW));
}

/** The strongest of the pitches that sounds are made of; null where it is silent, or another sound. */
function pitchIn(samples: Int16Array): number | null {
  const levels = EVERY_PITCH.map((hz) => ({ hz, level: strength(samples, hz) }));
  const { hz, level } = levels.reduce((best, one) => (one.level > best.level ? one : best));
  return level > AUDIBLE ? hz : null;
}

/** How strong one tone is, from 0 to 1, by Goertzel's recurrence. */
function strength(samples: Int16Array, hz: number): number {
  const factor = 2 * Math.cos((2 * Math.PI * hz) / RATE);
  let one = 0;
  let two = 0;
  for (const sample of samples) [one, two] = [sample / 32_768 + factor * one - two, one];
  return (2 * Math.sqrt(Math.max(0, one * one + two * two - factor * one * two))) / samples.length;
}
