import { spawn } from 'node:child_process';
import { once } from 'node:events';

/** Samples a second. */
export const RECORDED_RATE = 48_000;
const BYTES = 2;
/** The clock of samples is taken from what came in within this, so that a gap in the recording is not carried on. */
const AROUND_MS = 15_000;

/** What has come in by an instant of the machine's monotonic clock, in samples. */
interface Arrival {
  readonly atMs: number;
  readonly samples: number;
}

export interface Recording {
  readonly samples: Float32Array;
  /** When a sample was played, ms of the machine's monotonic clock. Late by no more than the card's own block. */
  atMs(sample: number): number;
  sampleAt(atMs: number): number;
  /** By how much the clock of samples moved in all: more than a few ms means that samples were lost. */
  readonly clockMovedMs: number;
}

export interface Recorder {
  /** What was recorded by now. `laterMs`: by how much the clock of samples is known to be early. */
  recording(laterMs?: number): Recording;
  stop(): Promise<void>;
}

/** The machine's monotonic clock, as the station's continuous clock reads it. */
export const monotonicMs = (): number => Number(process.hrtime.bigint()) / 1e6;

/**
 * Records all that the sound server plays (`PULSE_SERVER`), with the instant at which each piece came in. A piece can
 * only come in after it was played: the earliest that any came in for its place is the time of that place, and pieces
 * that a busy machine handed over late do no harm.
 */
export async function record(): Promise<Recorder> {
  const words = ['-d', '@DEFAULT_MONITOR@', `--rate=${RECORDED_RATE}`, '--channels=1', '--format=s16le'];
  const child = spawn('parec', [...words, '--raw', '--latency-msec=10'], { stdio: ['ignore', 'pipe', 'inherit'] });
  const pieces: Buffer[] = [];
  const arrivals: Arrival[] = [];
  let bytes = 0;
  child.stdout.on('data', (piece: Buffer) => {
    bytes += piece.length;
    pieces.push(piece);
    arrivals.push({ atMs: monotonicMs(), samples: bytes / BYTES });
  });
  await once(child.stdout, 'data');
  return {
    recording: (laterMs = 0) => recordingOf(Buffer.concat(pieces), arrivals, laterMs),
    async stop() {
      const ended = once(child, 'exit');
      child.kill('SIGINT');
      await ended;
    },
  };
}

function recordingOf(bytes: Buffer, arrivals: readonly Arrival[], laterMs: number): Recording {
  const samples = new Float32Array(Math.floor(bytes.length / BYTES));
  for (let at = 0; at < samples.length; at += 1) samples[at] = bytes.readInt16LE(at * BYTES) / 32_768;
  const starts = startsOf(arrivals);
  const startMs = (sample: number): number => {
    const near = starts.filter((one) => Math.abs(one.sample - sample) < (AROUND_MS * RECORDED_RATE) / 1000);
    return Math.min(...(near.length > 0 ? near : starts).map((one) => one.startMs)) + laterMs;
  };
  const atMs = (sample: number): number => startMs(sample) + (sample / RECORDED_RATE) * 1000;
  const everyStart = starts.map(({ sample }) => startMs(sample));
  return {
    samples,
    atMs,
    sampleAt(wantedMs) {
      const first = (starts[0]?.startMs ?? 0) + laterMs;
      const guess = ((wantedMs - first) / 1000) * RECORDED_RATE;
      return Math.round(((wantedMs - startMs(guess)) / 1000) * RECORDED_RATE);
    },
    clockMovedMs: Math.max(...everyStart) - Math.min(...everyStart),
  };
}

/** For each second of the recording: when its sample 0 was played, as the promptest piece says. */
function startsOf(arrivals: readonly Arrival[]): { sample: number; startMs: number }[] {
  const bySecond = new Map<number, number>();
  for (const { atMs, samples } of arrivals) {
    const second = Math.floor(samples / RECORDED_RATE);
    const startMs = atMs - (samples / RECORDED_RATE) * 1000;
    bySecond.set(second, Math.min(startMs, bySecond.get(second) ?? startMs));
  }
  return [...bySecond].map(([second, startMs]) => ({ sample: (second + 0.5) * RECORDED_RATE, startMs }));
}
