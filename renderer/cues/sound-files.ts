import { Howl } from 'howler';
import { CUE_IDS, SIGNALS, SOUNDS } from '../../core/procedure/cue-table.ts';
import type { Language } from '../../core/settings/language.ts';
import { type SoundFile, wordsOf } from './speaker.ts';

const ROOT = '../../assets/sounds/';
const ADDRESSES: Record<string, string> = import.meta.glob('../../assets/sounds/**/*.wav', {
  query: '?url',
  import: 'default',
  eager: true,
});

/** What has to be there before a cue can sound. */
export const TONES: readonly SoundFile[] = [...SOUNDS, ...SIGNALS];

/** What is spoken in a language, where the site wants it. */
export const spokenIn = (language: Language): readonly SoundFile[] =>
  [...CUE_IDS, ...SIGNALS].map((what) => wordsOf(what, language));

export interface SoundFiles {
  /** Loads files that were not asked for before. */
  load(files: readonly SoundFile[]): void;
  has(files: readonly SoundFile[]): boolean;
  /** One that could not be loaded; null where all could, so far. */
  broken(): string | null;
  /** The sound itself; null where it is not loaded. */
  bufferOf(file: SoundFile): AudioBuffer | null;
}

/** The sounds as Howler loads, decodes and keeps them. */
export function soundFiles(onChange: () => void): SoundFiles {
  const asked = new Set<SoundFile>();
  const buffers = new Map<SoundFile, AudioBuffer>();
  let broken: string | null = null;

  function load(file: SoundFile): void {
    if (asked.has(file)) return;
    asked.add(file);
    const fail = (): void => {
      broken ??= file;
      onChange();
    };
    const src = ADDRESSES[`${ROOT}${file}.wav`];
    if (src === undefined) {
      fail();
      return;
    }
    const howl: Howl = new Howl({
      src,
      format: 'wav',
      html5: false,
      onloaderror: fail,
      onload: () => {
        const buffer = keptBy(howl);
        if (buffer === null) fail();
        else buffers.set(file, buffer);
        onChange();
      },
    });
  }

  return {
    load: (files) => files.forEach(load),
    has: (files) => files.every((file) => buffers.has(file)),
    broken: () => broken,
    bufferOf: (file) => buffers.get(file) ?? null,
  };
}

/** What a Howl of Howler 2.2.4 has beside what its types tell: how it makes ready to play. */
interface Kept {
  readonly _sounds?: readonly { readonly _node?: { readonly bufferSource?: AudioBufferSourceNode | null } }[];
  _refreshBuffer?(sound: unknown): void;
}

/**
 * The samples of a loaded sound; null where another version of Howler keeps them elsewhere. Howler can only play at
 * once, and a cue is placed ahead on the audio clock: it is asked for a source node as it makes one for playing.
 */
function keptBy(howl: Howl): AudioBuffer | null {
  const kept = howl as unknown as Kept;
  const sound = kept._sounds?.[0];
  kept._refreshBuffer?.(sound);
  return sound?._node?.bufferSource?.buffer ?? null;
}
