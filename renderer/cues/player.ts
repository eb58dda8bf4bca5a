import { Howl, Howler } from 'howler';
import exposureEnd from '../../assets/sounds/exposure-end.wav?url';
import infusionEnd from '../../assets/sounds/infusion-end.wav?url';
import lightWindow1 from '../../assets/sounds/light-window-1min.wav?url';
import lightWindow2 from '../../assets/sounds/light-window-2min.wav?url';
import lightWindowOpen from '../../assets/sounds/light-window-open.wav?url';
import secondEye1 from '../../assets/sounds/second-eye-1min.wav?url';
import soundCheck from '../../assets/sounds/sound-check.wav?url';
import type { SoundName as CueSound } from '../../core/procedure/cues.ts';

type SoundName = CueSound | 'sound-check';

const SOUND_FILES: Record<SoundName, string> = {
  'infusion-end': infusionEnd,
  'light-window-2min': lightWindow2,
  'light-window-1min': lightWindow1,
  'light-window-open': lightWindowOpen,
  'exposure-end': exposureEnd,
  'second-eye-1min': secondEye1,
  'sound-check': soundCheck,
};

/** `ready` says that a sound can be asked for. Only a person can say that it is heard. */
export interface SoundState {
  readonly state: 'ready' | 'blocked' | 'failed';
  readonly words: string;
}

const LOADING: SoundState = { state: 'blocked', words: 'the sounds are being loaded' };
const READY: SoundState = { state: 'ready', words: 'sound is on' };
const BLOCKED: SoundState = { state: 'blocked', words: 'sound is waiting for a key press' };
const NO_SOUND: SoundState = { state: 'failed', words: 'this screen has no sound: watch the counts' };

export interface Player {
  /** Sounds now. False where it cannot. */
  play(sound: SoundName): boolean;
  /** Sounds the check, after the key press that asks for it. */
  playCheck(): Promise<boolean>;
  soundState(): SoundState;
  /** Hears of every change of the state. Returns the way to stop. */
  onChange(hear: () => void): () => void;
}

/** Loads every sound and keeps the way to the loudspeaker open. One window has one player. */
export function openPlayer(): Player {
  // Howler puts its audio to sleep after 30 s of silence, and a cue would wait for it to wake.
  Howler.autoSuspend = false;
  const hearers = new Set<() => void>();
  const changed = (): void => {
    const before = state;
    state = stateNow();
    if (state !== before) for (const hear of hearers) hear();
  };
  const broken: SoundName[] = [];
  const loaded = new Set<SoundName>();
  const howls = new Map<SoundName, Howl>();
  const stateNow = (): SoundState => {
    if (Howler.noAudio || !Howler.ctx) return NO_SOUND;
    const [first] = broken;
    if (first !== undefined) return failed(first);
    if (Howler.ctx.state !== 'running') return BLOCKED;
    return loaded.size === howls.size ? READY : LOADING;
  };
  let state = LOADING;

  for (const [sound, src] of Object.entries(SOUND_FILES) as [SoundName, string][]) {
    const onload = (): void => {
      loaded.add(sound);
      changed();
    };
    const onbroken = (): void => {
      broken.push(sound);
      changed();
    };
    const howl = new Howl({ src, format: 'wav', html5: false, onload, onloaderror: onbroken, onplayerror: onbroken });
    howls.set(sound, howl);
  }
  // Howler makes its audio context with the first sound.
  Howler.ctx?.addEventListener('statechange', changed);
  document.addEventListener('keydown', () => void wake(), { capture: true });
  changed();
  void wake();

  let freeAtMs = 0;
  const play = (sound: SoundName): boolean => {
    const howl = howls.get(sound);
    // A sound asked of an audio context that sleeps is kept by Howler and would be heard whenever it wakes.
    if (howl?.state() !== 'loaded' || Howler.ctx?.state !== 'running') {
      void wake();
      return false;
    }
    const nowMs = performance.now();
    const waitMs = Math.max(0, freeAtMs - nowMs);
    freeAtMs = nowMs + waitMs + howl.duration() * 1000 + BETWEEN_MS;
    if (waitMs === 0) howl.play();
    else setTimeout(() => howl.play(), waitMs);
    return true;
  };

  return {
    play,
    async playCheck() {
      await wake();
      return play('sound-check');
    },
    soundState: () => state,
    onChange(hear) {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
  };
}

/** Two sounds due together are heard one after the other, this far apart. */
const BETWEEN_MS = 800;

/** Asks for the audio to run. Before the first key press a browser may not let it. */
async function wake(): Promise<void> {
  const { ctx } = Howler;
  if (!ctx || ctx.state === 'running') return;
  const refused = new Promise<void>((resolve) => setTimeout(resolve, WAKE_WITHIN_MS));
  await Promise.race([ctx.resume().catch(() => undefined), refused]);
}

const WAKE_WITHIN_MS = 500;

const failed = (sound: SoundName): SoundState => ({
  state: 'failed',
  words: `the sound "${sound}" cannot be played: watch the counts`,
});
