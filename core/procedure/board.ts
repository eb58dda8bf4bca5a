import type { CountView, SessionView } from '../protocol/view.ts';
import { FLUSH_ML } from './conditions.ts';
import { beamIsOn, type Exposure, exposureDueAtMs, isWhole } from './exposure.ts';
import { infusionDueAtMs, infusionRanMs } from './infusion.ts';
import { type Course, type SessionRecord, stateOf } from './record.ts';
import { FLUSH_MS } from './spans.ts';
import type { StateName } from './states.ts';

type BoardView = SessionView['board'];

/** The one number that matters now, what it counts to, the second timer, and what comes next. */
export function boardOf(record: SessionRecord, atMs: number): BoardView {
  const state = stateOf(record);
  const { course } = record;
  const counting = course !== null && COUNTING.includes(state);
  return counting ? courseBoard(course, state, atMs) : { ...QUIET[state], main: null, second: null };
}

const COUNTING: readonly StateName[] = ['infusing', 'flushing', 'waitingForLight', 'lightDelivery'];

const QUIET: Record<StateName, { title: string; next: string }> = {
  planning: { title: 'planning', next: 'make up the drug once two people have computed the dose' },
  prepared: { title: 'drug made up', next: 'prime the line' },
  linePrimed: { title: 'line primed', next: 'start the pump' },
  infusing: { title: 'infusing', next: '' },
  flushing: { title: 'flushing', next: '' },
  waitingForLight: { title: 'waiting for light', next: '' },
  lightDelivery: { title: 'light', next: '' },
  afterCare: { title: 'after-care', next: 'keep the patient from bright light' },
  discharged: { title: 'discharged', next: '' },
  stoppedEarly: { title: 'stopped early', next: 'no further drug, no further light' },
};

function courseBoard(course: Course, state: StateName, atMs: number): BoardView {
  const toWindow = left(course.lightDueAtMs, 'to the light window', 'light window is open');
  if (state === 'infusing') {
    const held = course.infusion.runningSinceAtMs === null;
    return {
      title: held ? 'infusion held' : 'infusing',
      main: toWindow,
      second: infusionCount(course, atMs),
      next: `flush, ${FLUSH_ML} mL dextrose 5 % over ${FLUSH_MS / 1000} s`,
    };
  }
  if (state === 'flushing') {
    const doneAtMs = (course.flush?.beganAtMs ?? atMs) + FLUSH_MS;
    return {
      title: 'flushing',
      main: toWindow,
      second: left(doneAtMs, 'flush ends in', 'flush over its time'),
      next: 'drops, lens, read the laser settings back',
    };
  }
  return lightBoard(course, state, toWindow, atMs);
}

function lightBoard(course: Course, state: StateName, toWindow: CountView, atMs: number): BoardView {
  const shining = course.exposures.find(beamIsOn);
  const next = course.exposures.find((exposure) => exposure !== shining && !isWhole(exposure, atMs));
  const second = secondEyeCount(course);
  if (shining !== undefined) {
    const then = next === undefined ? 'light done, then after-care' : `${next.eye} eye`;
    return { title: `light on, ${shining.eye} eye`, main: lightCount(shining, atMs), second, next: then };
  }
  if (next === undefined) return { title: 'light done', main: null, second: null, next: 'after-care' };
  if (next.beams.length > 0) {
    return {
      title: 'light held',
      main: lightCount(next, atMs),
      second,
      next: `${next.eye} eye: beam on again, if the physician says so`,
    };
  }
  const title = state === 'waitingForLight' ? 'waiting for light' : `${next.eye} eye next`;
  return {
    title,
    main: second !== null && state === 'lightDelivery' ? second : toWindow,
    second: null,
    next: `beam on, ${next.eye} eye`,
  };
}

const left = (dueAtMs: number, words: string, pastWords: string): CountView => ({
  kind: 'left',
  eye: null,
  dueAtMs,
  leftMs: null,
  words,
  pastWords,
});

function infusionCount({ infusion }: Course, atMs: number): CountView {
  const dueAtMs = infusionDueAtMs(infusion);
  if (dueAtMs !== null) return left(dueAtMs, 'infusion ends in', 'infusion over its time: pump off');
  const leftMs = infusion.plannedMs - infusionRanMs(infusion, atMs);
  const pastWords = 'infusion held, over by';
  return { kind: 'held', eye: null, dueAtMs: null, leftMs, words: 'infusion held, left', pastWords };
}

function lightCount(exposure: Exposure, atMs: number): CountView {
  const dueAtMs = exposureDueAtMs(exposure);
  const delivered = exposure.beams.reduce((sum, beam) => sum + (beam.offAtMs ?? atMs) - beam.onAtMs, 0);
  const leftMs = dueAtMs === null ? exposure.plannedMs - delivered : null;
  return {
    kind: 'light',
    eye: exposure.eye,
    dueAtMs,
    leftMs,
    words: 'light left',
    pastWords: 'ordered light given: is the beam off?',
  };
}

function secondEyeCount(course: Course): CountView | null {
  const begun = course.exposures.every((exposure) => exposure.beams.length > 0);
  if (course.secondEyeDueAtMs === null || begun) return null;
  return left(course.secondEyeDueAtMs, 'second eye to begin within', 'too late to begin the second eye');
}
