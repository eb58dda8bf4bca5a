import { Howler } from 'howler';
import { type AudioMoment, AudioTime } from './audio-time.ts';

/** Howler's audio context as a clock: kept awake, compared with the page's, and watched for standing still. */
export interface AudioClock {
  /** Compares the clocks; wakes one that sleeps, and begins a new one where the device gave up the old. */
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

/**
 * What the sound card is given at once, seconds. Howler's own context takes the least there is, which stutters on a busy
 * machine; what is placed ahead loses nothing by more.
 */
const BLOCK_S = 0.05;
/** For the page to ask, and the audio to take it up. */
const ASKING_MS = 60;
/** The audio clock has stood still for so long: the device takes nothing any more. */
const STANDS_STILL_MS = 1_500;
/** A page that did not look for longer cannot say how long the audio clock stood still meanwhile. */
const LOOK_WITHIN_MS = 500;
/** Audio that sleeps is woken, and audio that stands still begun anew, this often. */
const AGAIN_MS = 2_000;
const WAKE_WITHIN_MS = 500;

/** Gives Howler a context of our own. Before its first sound. `onChange` hears that it began or ceased to run. */
export function audioClock(onChange: () => void): AudioClock {
  const time = new AudioTime();
  let seen = { contextS: 0, pageMs: 0 };
  let stillMs = 0;
  let triedMs = Number.NEGATIVE_INFINITY;
  if (typeof AudioContext !== 'undefined') begin();
  document.addEventListener('keydown', () => void wake(), { capture: true });

  function begin(): void {
    // Asked before there is a context, Howler would make one of its own.
    const gain = Howler.ctx ? Howler.volume() : 1;
    Howler.ctx = new AudioContext({ latencyHint: BLOCK_S });
    Howler.masterGain = new GainNode(Howler.ctx, { gain });
    Howler.masterGain.connect(Howler.ctx.destination);
    Howler.ctx.addEventListener('statechange', onChange);
    time.forget();
  }

  const context = (): AudioContextState | null => (Howler.noAudio || !Howler.ctx ? null : Howler.ctx.state);

  async function wake(): Promise<void> {
    if (context() === null || context() === 'running') return;
    triedMs = performance.now();
    const refused = new Promise<void>((resolve) => setTimeout(resolve, WAKE_WITHIN_MS));
    await Promise.race([Howler.ctx.resume().catch(() => undefined), refused]);
  }

  /** A device that went does not take up its context again when it, or another, is there. */
  function beginAnew(): void {
    triedMs = performance.now();
    void Howler.ctx.close();
    begin();
    void wake();
  }

  function look(): void {
    const pageMs = performance.now();
    const again = pageMs - triedMs > AGAIN_MS;
    if (context() !== 'running') {
      if (again) void wake();
      return;
    }
    const contextS = Howler.ctx.currentTime;
    const sinceMs = Math.min(LOOK_WITHIN_MS, pageMs - seen.pageMs);
    stillMs = contextS === seen.contextS ? stillMs + sinceMs : 0;
    seen = { contextS, pageMs };
    if (stillMs === 0) time.note(momentOf(Howler.ctx));
    if (standsStill() && again) beginAnew();
  }

  const standsStill = (): boolean => stillMs > STANDS_STILL_MS;
  const leadMs = (): number => Math.max(0, time.pageMsAt(Howler.ctx.currentTime) - performance.now()) + ASKING_MS;

  return { look, time, leadMs, context, standsStill, wake };
}

/** What is heard now. Where the system does not say, what it is given now less what it tells of its delay. */
function momentOf(ctx: AudioContext): AudioMoment {
  const { contextTime = 0, performanceTime = 0 } = ctx.getOutputTimestamp();
  const queuedS = QUEUES_A_BLOCK ? ctx.baseLatency : 0;
  if (contextTime > 0 && performanceTime > 0) return { contextS: contextTime - queuedS, pageMs: performanceTime };
  const delayS = (ctx.outputLatency || 0) + ctx.baseLatency;
  return { contextS: ctx.currentTime - delayS, pageMs: performance.now() };
}

/**
 * Chromium once kept a block more in a queue than its time stamps tell: measured against a recorded sound card, 114 is
 * late by just that block, whatever its length, and 156 is not. It did away with the queue in 135, as its developers
 * announced (their list fugu-dev).
 */
const NO_QUEUE_SINCE = 135;
const QUEUES_A_BLOCK = Number(/Chrome\/(\d+)/.exec(navigator.userAgent)?.[1] ?? NO_QUEUE_SINCE) < NO_QUEUE_SINCE;
