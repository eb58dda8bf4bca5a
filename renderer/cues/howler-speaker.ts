import { Howler } from 'howler';
import type { Language } from '../../core/settings/language.ts';
import { audioClock } from './audio-clock.ts';
import { watchOutputs } from './outputs.ts';
import { soundFiles, spokenIn, TONES } from './sound-files.ts';
import { canSound, type SoundState, soundStateOf } from './sound-state.ts';
import { type Armed, type SoundFile, type Speaker, wordsOf } from './speaker.ts';

export interface HowlerSpeaker extends Speaker {
  /** Loads what is spoken in a language. */
  loadWords(language: Language): void;
  /** Sounds the check, with its words in a language or without. `near`: a cue sounds, or is about to. */
  check(spoken: Language | null): Promise<'sounding' | 'near' | 'cannot'>;
  soundState(): SoundState;
  /** Hears of every change of the state. Returns the way to stop. */
  onChange(hear: () => void): () => void;
}

/** A stretch of the audio clock that sounds lie on. */
interface Span {
  /** Whose clock it is: with that context the sounds are gone. */
  readonly ctx: AudioContext;
  readonly fromS: number;
  readonly untilS: number;
  stop(): void;
}

/** A sound that is taken away fades for so long: a cut would click. */
const FADE_S = 0.03;

/** Sounds on Howler's audio clock, through its mixer. One window has one. */
export function howlerSpeaker(): HowlerSpeaker {
  // Howler puts its audio to sleep after 30 s of silence, and begins anew with another audio clock to unlock it.
  Howler.autoSuspend = false;
  Howler.autoUnlock = false;
  const hearers = new Set<() => void>();
  const clock = audioClock(changed);
  const files = soundFiles(changed);
  const outputs = watchOutputs(changed);
  const spans = new Set<Span>();
  let check: Span | null = null;
  let state = stateNow();
  files.load(TONES);

  function stateNow(): SoundState {
    return soundStateOf({
      context: clock.context(),
      broken: files.broken(),
      loaded: files.has(TONES),
      outputs: outputs.count(),
      standsStill: clock.standsStill(),
      changed: outputs.changed(),
    });
  }

  function changed(): void {
    const next = stateNow();
    if (next.words === state.words) return;
    state = next;
    for (const hear of hearers) hear();
  }

  function look(): void {
    clock.look();
    changed();
    for (const span of spans) if (span.ctx !== Howler.ctx || Howler.ctx.currentTime > span.untilS) spans.delete(span);
  }

  const lengthMs = (file: SoundFile): number => (files.bufferOf(file)?.duration ?? 0) * 1000;

  function arm(wanted: readonly SoundFile[], startMs: number): Armed {
    const span = place(wanted, clock.time.contextSAt(startMs));
    if (check?.ctx === span.ctx && span.fromS < check.untilS) check.stop();
    const beginsMs = (): number =>
      span.ctx === Howler.ctx ? clock.time.pageMsAt(span.fromS) : Number.POSITIVE_INFINITY;
    return { beginsMs, stop: span.stop };
  }

  /** Puts files on the audio clock, one after the other. */
  function place(wanted: readonly SoundFile[], startS: number): Span {
    const { ctx, masterGain } = Howler;
    const gain = new GainNode(ctx);
    gain.connect(masterGain);
    const fromS = Math.max(startS, ctx.currentTime);
    let untilS = fromS;
    const nodes = wanted.map((file) => {
      const node = new AudioBufferSourceNode(ctx, { buffer: files.bufferOf(file) });
      node.connect(gain);
      node.start(untilS);
      untilS += lengthMs(file) / 1000;
      return node;
    });
    const stop = (): void => {
      spans.delete(span);
      gain.gain.setTargetAtTime(0, ctx.currentTime, FADE_S / 3);
      for (const node of nodes) node.stop(ctx.currentTime + FADE_S);
    };
    const span: Span = { ctx, fromS, untilS, stop };
    spans.add(span);
    return span;
  }

  return {
    look,
    able: () => canSound(state) && clock.time.known(),
    leadMs: clock.leadMs,
    lengthMs,
    arm,
    loadWords: (language) => files.load(spokenIn(language)),
    async check(spoken) {
      await clock.wake();
      look();
      if (!canSound(state)) return 'cannot';
      check?.stop();
      check = null;
      const wanted: SoundFile[] = ['sound-check', ...(spoken === null ? [] : [wordsOf('sound-check', spoken)])];
      const nowS = Howler.ctx.currentTime;
      const endsS = nowS + wanted.reduce((sum, file) => sum + lengthMs(file), 0) / 1000;
      if ([...spans].some(({ fromS, untilS }) => fromS < endsS && untilS > nowS)) return 'near';
      check = place(wanted, nowS);
      outputs.listenedTo();
      return 'sounding';
    },
    soundState: () => state,
    onChange(hear) {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
  };
}
