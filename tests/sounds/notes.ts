import { type Sound, soundAt } from './sound-files.ts';
import { spectrumOf, strongestHz } from './spectrum.ts';

/** A note as it is heard in the file: nothing of the table it was made from is used to find it. */
export interface Note {
  readonly first: number;
  readonly end: number;
  readonly lengthS: number;
  /** Silence before it; 0 before the first. */
  readonly afterS: number;
  /** Its pitch near its beginning, in its middle and near its end. */
  readonly hz: readonly [number, number, number];
}

export interface HeardTone extends Sound {
  readonly id: string;
  readonly notes: readonly Note[];
}

export function toneAt(id: string): HeardTone {
  const sound = soundAt(id);
  return { id, ...sound, notes: notesIn(sound) };
}

/** Notes are what stands between silences. A note is as long as it is at half its level or more. */
function notesIn(sound: Sound): Note[] {
  const { rateHz } = sound;
  const levels = levelsOf(sound);
  const loud = levels.map((level) => level > 0.001);
  const firsts = loud.flatMap((isLoud, index) => (isLoud && loud[index - 1] !== true ? [index] : []));
  const ends = firsts.map((first) => {
    const silent = loud.indexOf(false, first);
    return silent === -1 ? loud.length : silent;
  });
  return firsts.map((first, index) => {
    const end = ends[index] ?? first;
    const own = levels.slice(first, end);
    const half = Math.max(...own) / 2;
    const lengthS = (own.findLastIndex((level) => level >= half) - own.findIndex((level) => level >= half)) / rateHz;
    const afterS = index === 0 ? 0 : (first - (ends[index - 1] ?? 0)) / rateHz;
    return { first, end, lengthS, afterS, hz: [pitchAt(0.2), pitchAt(0.5), pitchAt(0.8)] };

    function pitchAt(part: number): number {
      const count = Math.round(0.06 * rateHz);
      const middle = first + part * (end - first);
      return strongestHz(spectrumOf(sound, Math.round(middle - count / 2), count));
    }
  });
}

/** The level around each sample: the largest within 2 ms either way. */
export function levelsOf({ samples, rateHz }: Sound): number[] {
  const reach = Math.round(0.002 * rateHz);
  return samples.map((_, index) => {
    let most = 0;
    for (let at = Math.max(0, index - reach); at <= Math.min(samples.length - 1, index + reach); at += 1) {
      most = Math.max(most, Math.abs(samples[at] ?? 0));
    }
    return most;
  });
}

export function largestJump({ samples }: Sound, from = 0, to = samples.length): number {
  let most = 0;
  for (let at = Math.max(1, from); at < Math.min(samples.length, to); at += 1) {
    most = Math.max(most, Math.abs((samples[at] ?? 0) - (samples[at - 1] ?? 0)));
  }
  return most;
}
