import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { quantile } from 'simple-statistics';
import { desktop } from '../desktop/desktop.ts';
import { markerDelaysMs } from '../hearing/marker.ts';
import { TONES } from '../hearing/recogniser.ts';
import { record } from '../hearing/recorder.ts';
import { entriesIn, type FoundEntry } from '../station/independent-reading.ts';
import {
  dueAgainstStartMs,
  type MeasuredCue,
  measuredCues,
  shortestPauseMs,
  unexplainedMs,
} from './cue-onset/measured.ts';
import { bringRegimen, giveTreatments, SPEED } from './cue-onset/treatments.ts';

/*
 * When cues are heard, beside the instants they were due at: the real station, the real windows, a recorded sound card.
 *
 *   node_modules/.bin/node tests/bench/cue-onset.ts [--short]
 *
 * Needs a display, an Electron (`ELECTRON_OVERRIDE_DIST_PATH`), a sound server (`PULSE_SERVER`) with `parec` and
 * `pacat`, and a bundle in dist/. Runs two invented treatments at three times real time with an idle machine, then again
 * with every core busy: about 8 minutes each. Prints JSON, in milliseconds; judges nothing.
 *
 * One time base: the station's continuous clock is the machine's monotonic clock times the speed, and the recorder
 * stamps each piece of sound with that clock as it comes in. The base is checked by clicks that this program itself gives
 * to the sound server at known instants (`markerDelay`): none can be heard before it was given, so the base is moved
 * later until the earliest click has no delay; it is then early by no more than a click takes on its way. `spread` is free
 * of any error of the base: it is of onsets less their own median.
 */
const whole = !process.argv.includes('--short');
const results = [];
for (const condition of ['idle', 'every core busy'] as const) {
  const burners = condition === 'idle' ? [] : cpus().map(burn);
  try {
    results.push({ condition, ...(await measure()) });
  } finally {
    for (const burner of burners) burner.kill();
  }
}
console.log(JSON.stringify({ cores: cpus().length, speed: SPEED, results }, null, 2));

async function measure() {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-onset-'));
  bringRegimen(folder);
  const recorder = await record();
  const desk = await desktop(SPEED, folder);
  try {
    await desk.console.waitForTimeout(3_000);
    const before = await markerDelaysMs(recorder);
    await giveTreatments(desk.console, whole);
    await desk.console.waitForTimeout(3_000);
    const after = await markerDelaysMs(recorder);
    const entries = entriesIn(desk.ledgerFile);
    const earlyMs = Math.max(0, ...[...before, ...after].map((delayMs) => -(delayMs ?? 0)));
    const recording = recorder.recording(earlyMs);
    const cues = measuredCues(entries, recording);
    const onTime = cues.filter(({ alone }) => alone);
    const errors = onTime.map(({ onsetMs, dueMs }) => onsetMs - dueMs);
    const middle = quantile(errors, 0.5);
    return {
      cues: cues.length,
      late: countOf(entries, 'late'),
      silent: countOf(entries, 'silent'),
      onTime: onTime.length,
      onsetLessDue: figures(errors),
      distance: figures(errors.map(Math.abs)),
      spread: figures(errors.map((error) => Math.abs(error - middle))),
      markerDelay: { before, after },
      recordingClockMoved: round(recording.clockMovedMs),
      dueAgainstPumpStart: round(dueAgainstStartMs(entries)),
      shortestPauseBetweenSounds: round(shortestPauseMs(cues)),
      heardWithoutCue: unexplainedMs(cues, entries, recording),
      leastLikeness: round(Math.min(...cues.map(({ likeness }) => likeness))),
      mostLikenessOfAnother: round(Math.max(...cues.map(({ nextLikeness }) => nextLikeness))),
      confusion: confusionOf(cues),
    };
  } finally {
    await desk.stop();
    await recorder.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

function countOf(entries: readonly FoundEntry[], outcome: string): number {
  return entries.filter(({ kind, payload }) => kind === 'cue-sounded' && payload.outcome === outcome).length;
}

function burn(): ChildProcess {
  return spawn(process.execPath, ['-e', 'for (;;);'], { stdio: 'ignore' });
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

function figures(values: readonly number[]) {
  const at = (share: number): number => round(quantile([...values], share));
  return { least: at(0), median: at(0.5), p95: at(0.95), p99: at(0.99), most: at(1) };
}

/** For each sound that was due, what was recognised, and how often. */
function confusionOf(cues: readonly MeasuredCue[]): Record<string, Record<string, number>> {
  const due = TONES.filter((tone) => cues.some(({ wanted }) => wanted === tone));
  const heardAs = (tone: string): [string, number][] =>
    TONES.map((heard): [string, number] => [
      heard,
      cues.filter((cue) => cue.wanted === tone && cue.heard === heard).length,
    ]).filter(([, count]) => count > 0);
  return Object.fromEntries(due.map((tone) => [tone, Object.fromEntries(heardAs(tone))]));
}
