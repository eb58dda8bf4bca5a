import { Howler } from 'howler';
import { type AudioMoment, AudioTime } from './audio-time.ts';

/** Howler's audio context as a clock: kept awake, compared with the page's, and watched for standing still. */
export interface AudioClock {
  /** Compares the clocks, and wakes one that sleeps. */
  look(): void;
  readonly time: AudioTime;
  /** How long before it is heard a sound has to be asked for, ms. */
  leadMs(): number;
  /** Null where the page has no audio. */
  context(): AudioContextState | null;
  standsStill(): boolean;
  /** Asks for the audio to run. Before the first key press a browser may not let it. */
  wake(): Promise<void>;
}

/** The audio clock has stood still for so long: the device takes nothing any more. */
const STANDS_STILL_MS = 1_500;
/** A page that did not look for longer cannot say how long the audio clock stood still meanwhile. */
const LOOK_WITHIN_MS = 500;
const WAKE_EVERY_MS = 2_000;
const WAKE_WITHIN_MS = 500;

/**
 * What the sound card is given at once, seconds. Howler's own context takes the least there is, which stutters on a busy
 * machine; what is placed ahead loses nothing by more.
 */
const BLOCK_S = 0.1;
/** For the page to ask, and the audio to take it up. */
const ASKING_MS = 60;

/** Gives Howler a context of our own. Before its first sound. `onChange` hears that it began or ceased to run. */
export function audioClock(onChange: () => void): AudioClock {
  if (typeof AudioContext !== 'undefined') {
    Howler.ctx = new AudioContext({ latencyHint: BLOCK_S });
    Howler.masterGain = new GainNode(Howler.ctx);
    Howler.masterGain.connect(Howler.ctx.destination);
  }
  const time = new AudioTime();
  let seen = { contextS: 0, pageMs: 0 };
  let stillMs = 0;
  let wokenMs = Number.NEGATIVE_INFINITY;
  Howler.ctx?.addEventListener('statechange', onChange);
  document.addEventListener('keydown', () => void wake(), { capture: true });

  const context = (): AudioContextState | null => (Howler.noAudio || !Howler.ctx ? null : Howler.ctx.state);

  async function wake(): Promise<void> {
    if (context() === null || context() === 'running') return;
    wokenMs = performance.now();
    const refused = new Promise<void>((resolve) => setTimeout(resolve, WAKE_WITHIN_MS));
    await Promise.race([Howler.ctx.resume().catch(() => undefined), refused]);
  }

  function look(): void {
    const pageMs = performance.now();
    if (context() !== 'running') {
      stillMs = 0;
      if (pageMs - wokenMs > WAKE_EVERY_MS) void wake();
      return;
    }
    const contextS = Howler.ctx.currentTime;
    const sinceMs = Math.min(LOOK_WITHIN_MS, pageMs - seen.pageMs);
    stillMs = contextS === seen.contextS ? stillMs + sinceMs : 0;
    seen = { contextS, pageMs };
    if (stillMs === 0) time.note(momentOf(Howler.ctx));
  }

  const leadMs = (): number => Math.max(0, time.pageMsAt(Howler.ctx.currentTime) - performance.now()) + ASKING_MS;

  return { look, time, leadMs, context, standsStill: () => stillMs > STANDS_STILL_MS, wake };
}

/** What is heard now. Where the system does not say, what it is given now less what it tells of its delay. */
function momentOf(ctx: AudioContext): AudioMoment {
  const { contextTime = 0, performanceTime = 0 } = ctx.getOutputTimestamp();
  if (contextTime > 0 && performanceTime > 0) return { contextS: contextTime, pageMs: performanceTime };
  const delayS = ctx.outputLatency || ctx.baseLatency || 0;
  return { contextS: ctx.currentTime - delayS, pageMs: performance.now() };
}
