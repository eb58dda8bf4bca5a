import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const SCRIPT = fileURLToPath(new URL('../../build/sounds.mjs', import.meta.url));

/** A file that the script makes, by its name in the folder of sounds. */
export interface SoundFile {
  readonly name: string;
  readonly make: () => Buffer | Promise<Buffer>;
}

interface SoundScript {
  readonly SOUNDS_FOLDER: string;
  readonly soundFiles: () => Promise<SoundFile[]>;
  readonly writeSounds: (files: readonly SoundFile[], folder: string) => Promise<void>;
  readonly differences: (files: readonly SoundFile[], folder: string) => Promise<string[]>;
}

export const { SOUNDS_FOLDER, soundFiles, writeSounds, differences }: SoundScript = await import(SCRIPT);

/** What is in a file: samples of full scale 1. */
export interface Sound {
  readonly rateHz: number;
  readonly samples: readonly number[];
}

export const wavAt = (name: string): Buffer => readFileSync(join(SOUNDS_FOLDER, `${name}.wav`));

export function soundAt(name: string): Sound {
  const wav = wavAt(name);
  const samples = Array.from({ length: (wav.length - 44) / 2 }, (_, index) => wav.readInt16LE(44 + index * 2) / 32_768);
  return { rateHz: wav.readUInt32LE(24), samples };
}

export const peakOf = ({ samples }: Sound): number =>
  samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);

export const secondsOf = ({ samples, rateHz }: Sound): number => samples.length / rateHz;

export const decibels = (ratio: number): number => 20 * Math.log10(ratio);
