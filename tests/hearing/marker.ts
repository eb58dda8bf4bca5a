import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout as passes } from 'node:timers/promises';
import { monotonicMs, RECORDED_RATE, type Recorder } from './recorder.ts';

const CLICKS = 5;
const APART_MS = 1_200;
const CLICK_SAMPLES = 96;
/** The click, and silence after it: as much as the server waits for before it begins. */
const GIVEN_SAMPLES = 0.1 * RECORDED_RATE;
const LOUD = 0.2;
/** Looked for so long; nothing can be recorded before it was given, but for an error of the time base. */
const BEFORE_MS = 100;
const WITHIN_MS = 1_000;

/**
 * How long after this program gave a click to the sound server it stands in the recording, ms, by the recording's own
 * time: several clicks, each delay; null for one that is not in it. Nothing lies before them in the stream that they would have to wait for.
 */
export async function markerDelaysMs(recorder: Recorder): Promise<(number | null)[]> {
  const words = [`--rate=${RECORDED_RATE}`, '--channels=1', '--format=s16le', '--raw', '--latency-msec=10'];
  const child = spawn('pacat', words, { stdio: ['pipe', 'ignore', 'inherit'] });
  await passes(1_000);
  const givenMs: number[] = [];
  for (let click = 0; click < CLICKS; click += 1) {
    await passes(APART_MS);
    givenMs.push(monotonicMs());
    child.stdin.write(clickOf());
  }
  await passes(WITHIN_MS);
  const ended = once(child, 'exit');
  child.stdin.end();
  await ended;
  const { samples, sampleAt, atMs } = recorder.recording();
  return givenMs.map((atGivenMs) => {
    const from = sampleAt(atGivenMs - BEFORE_MS);
    const heard = samples.subarray(from, sampleAt(atGivenMs + WITHIN_MS)).findIndex((one) => Math.abs(one) > LOUD);
    if (heard < 0) return null;
    return Math.round((atMs(from + heard) - atGivenMs) * 100) / 100;
  });
}

function clickOf(): Buffer {
  const click = Buffer.alloc(GIVEN_SAMPLES * 2);
  for (let at = 0; at < CLICK_SAMPLES; at += 1) click.writeInt16LE(at % 24 < 12 ? 12_000 : -12_000, at * 2);
  return click;
}
