import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright';
import type { Command, Eye } from '../../../core/procedure/commands.ts';
import type { Regimen } from '../../../core/regimen/regimens.ts';
import { giveIn, sessionOf } from '../../screens/sent-commands.ts';
import { courseOf, LEFT, RIGHT, type Step } from '../../session-steps.ts';

/** How many times as fast as real time the station runs: repeats of 10 s then have room for the longest sound. */
export const SPEED = 3;
/** Two sessions side by side, so far apart that a sound and the pause after it fit between theirs, seconds. */
const APART_S = 2.9;

/** Invented, for this alone: short, so that many cues come in a few minutes. */
const SHORT: Regimen = {
  id: 'short',
  name: 'Short, for measuring',
  indication: 'none: no patient',
  onLabel: false,
  doseMgPerM2: 3,
  infusionMin: 1,
  totalMl: 30,
  lightStartMin: 12,
  secondEyeLimitMin: 16,
  fluenceJPerCm2: 6,
  irradianceMwPerCm2: 600,
  exposureS: 10,
  sources: [{ text: 'made up for this measurement', sure: 'local' }],
  notes: [],
};

const DRUG_CUE_AHEAD_S = 3.5 * 3600;
const override = { reason: 'no patient: a measurement' };
const off: Command = { kind: 'beam-off', endedByLaser: false };
const on = (eye: Eye): Command => ({ kind: 'beam-on', eye, override });

/** What is done when, seconds of real time from the first pump's start. */
const COURSE: readonly (readonly [atS: number, session: 0 | 1, command: Command])[] = [
  [119, 0, { kind: 'begin-flush' }],
  [124, 1, { kind: 'begin-flush' }],
  [176, 0, { kind: 'end-flush', flushMl: 5, override }],
  [177, 1, { kind: 'end-flush', flushMl: 5, override }],
  [275, 0, on('right')],
  [318, 0, off],
  [322, 1, on('right')],
  [364, 1, off],
  [366, 1, on('left')],
  [408, 1, off],
  [410, 0, on('left')],
];
/** The same, for a look at whether all of it works: the infusion's end and its repeats. */
const SHORT_COURSE_S = 40;
const WHOLE_COURSE_S = 452;

/** Puts the regimen where the station finds it. Before its start. */
export function bringRegimen(folder: string): void {
  writeFileSync(join(folder, 'regimens.json'), JSON.stringify([SHORT]));
}

/** Two treatments with everything that sounds, through the page's own link. Takes `WHOLE_COURSE_S`. */
export async function giveTreatments(page: Page, whole: boolean): Promise<void> {
  const steps = stepsToPump();
  const sessions = [await sessionOf(page, steps)];
  const startedMs = performance.now();
  const until = (atS: number): Promise<void> =>
    page.waitForTimeout(Math.max(0, atS * 1000 - (performance.now() - startedMs)));
  await until(APART_S);
  sessions.push(await sessionOf(page, steps));
  for (const [atS, session, command] of whole ? COURSE : []) {
    await until(atS);
    await giveIn(page, sessions[session] ?? '', command);
  }
  await until(whole ? WHOLE_COURSE_S : SHORT_COURSE_S);
  for (const sessionId of sessions) await giveIn(page, sessionId, { kind: 'stop-early', reason: 'measured' });
}

/** The drug is so old that its own cue comes soon after the pump's start. */
function stepsToPump(): Step[] {
  const course = courseOf([RIGHT, LEFT], SHORT.id);
  const upTo = course.findIndex(({ name }) => name === 'start-pump') + 1;
  return course
    .slice(0, upTo)
    .map((step) =>
      step.command.kind === 'prepare'
        ? { ...step, command: { ...step.command, reconstitutedAgoS: DRUG_CUE_AHEAD_S - 10 * SPEED } }
        : step,
    );
}
