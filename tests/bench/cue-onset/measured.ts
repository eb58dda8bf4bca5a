import { CUE_TABLE, type CueId } from '../../../core/procedure/cue-table.ts';
import { recognise, type Tone } from '../../hearing/recogniser.ts';
import { RECORDED_RATE, type Recording } from '../../hearing/recorder.ts';
import type { FoundEntry } from '../../station/independent-reading.ts';
import { SPEED } from './treatments.ts';

/** One cue as the ledger has it, and as it was heard. Instants on the machine's monotonic clock, ms. */
export interface MeasuredCue {
  readonly cue: CueId;
  readonly wanted: Tone;
  readonly heard: Tone;
  readonly likeness: number;
  readonly nextLikeness: number;
  readonly dueMs: number;
  readonly onsetMs: number;
  readonly endMs: number;
  /** Nothing before it was in its way, and it was known beforehand: it should begin at its very instant. */
  readonly alone: boolean;
}

/** How far around its instant a sound is searched for, ms. */
const AROUND_MS = 500;
const LONGEST_MS = 2_500;
/** What the cues leave between two sounds, ms, as measured from outside: the pause that the player keeps. */
const PAUSE_MS = 500;
/** Known so long before it is due, a cue can be placed ahead. */
const KNOWN_AHEAD_MS = 600;
/** Louder than this, of full scale, is a sound. */
const AUDIBLE = 0.004;
const WINDOW_MS = 50;

/** Every cue that the ledger says was sounded, and not late, found in the recording. In order. */
export function measuredCues(entries: readonly FoundEntry[], recording: Recording): MeasuredCue[] {
  const sounded = entries.filter(({ kind, payload }) => kind === 'cue-sounded' && payload.outcome === 'sounded');
  const cues: MeasuredCue[] = [];
  for (const { payload, sessionId } of sounded) {
    const cue = payload.cue as CueId;
    const dueMs = Number(payload.dueAtMs) / SPEED;
    const saidMs = dueMs + Number(payload.lateMs) / SPEED;
    const wanted = CUE_TABLE[cue].sound;
    const { tone, sample, lengthS, likeness, nextLikeness } = recognise(
      recording.samples,
      recording.sampleAt(saidMs - AROUND_MS),
      recording.sampleAt(saidMs + AROUND_MS + LONGEST_MS),
    );
    const onsetMs = recording.atMs(sample);
    const endsBeforeMs = Math.max(0, ...cues.map(({ endMs }) => endMs)) + PAUSE_MS;
    const known = !entries.some(
      (entry) => entry.sessionId === sessionId && isPersons(entry) && isJustBefore(entry.continuousMs / SPEED, dueMs),
    );
    const endMs = onsetMs + lengthS * 1000;
    const alone = known && endsBeforeMs <= dueMs;
    cues.push({ cue, wanted, heard: tone, likeness, nextLikeness, dueMs, onsetMs, endMs, alone });
  }
  return cues;
}

const isPersons = ({ author }: FoundEntry): boolean => author.role !== 'station';
const isJustBefore = (atMs: number, dueMs: number): boolean => atMs > dueMs - KNOWN_AHEAD_MS && atMs < dueMs + 1_000;

/** The shortest pause between one sound and the next, ms; below 0 they would overlap. */
export function shortestPauseMs(cues: readonly MeasuredCue[]): number {
  const inOrder = [...cues].sort((one, other) => one.onsetMs - other.onsetMs);
  return Math.min(...inOrder.slice(1).map(({ onsetMs }, index) => onsetMs - (inOrder[index]?.endMs ?? 0)));
}

/** How long anything was heard where no cue was, ms, from the first pump's start to the last thing a person entered. */
export function unexplainedMs(
  cues: readonly MeasuredCue[],
  entries: readonly FoundEntry[],
  { samples, atMs, sampleAt }: Recording,
): number {
  const first = entries.find(({ kind }) => kind === 'start-pump');
  const last = entries.findLast(isPersons);
  if (first === undefined || last === undefined) throw new Error('no pump was started');
  const window = (WINDOW_MS * RECORDED_RATE) / 1000;
  const until = sampleAt(last.continuousMs / SPEED);
  let loud = 0;
  for (let from = sampleAt(first.continuousMs / SPEED); from + window <= until; from += window) {
    const fromMs = atMs(from);
    const explained = cues.some(
      ({ onsetMs, endMs }) => fromMs > onsetMs - 2 * WINDOW_MS && fromMs < endMs + 2 * WINDOW_MS,
    );
    if (!explained && samples.subarray(from, from + window).some((sample) => Math.abs(sample) > AUDIBLE)) loud += 1;
  }
  return loud * WINDOW_MS;
}

/** The first infusion cue of each session, against its pump's start and the minute that was ordered, ms apart at most. */
export function dueAgainstStartMs(entries: readonly FoundEntry[]): number {
  const starts = entries.filter(({ kind }) => kind === 'start-pump');
  const apart = starts.flatMap(({ sessionId, continuousMs }) => {
    const dues = entries.filter(
      ({ kind, payload, sessionId: of }) =>
        kind === 'cue-sounded' && payload.cue === 'infusion-end' && of === sessionId,
    );
    return dues.map(({ payload }) => {
      const sinceMs = Number(payload.dueAtMs) - continuousMs - 60_000;
      return Math.abs(sinceMs - Math.round(sinceMs / 15_000) * 15_000);
    });
  });
  return Math.max(...apart);
}
