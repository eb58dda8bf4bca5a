import { lightCareOf, tooShortSays } from '../after-care/light-care.ts';
import type { ExposureView, OpeningView, SessionView, TimerView } from '../protocol/view.ts';
import type { Moment } from '../time/moment.ts';
import { blind } from './blind.ts';
import { boardOf } from './board.ts';
import { COMMAND_KINDS } from './commands.ts';
import type { Missing } from './conditions.ts';
import { cuesShown, hushableNow } from './cue-view.ts';
import { dosesNow } from './doses.ts';
import { OVER } from './dues.ts';
import { deliveredMs, type Exposure, exposureDueAtMs, isWhole } from './exposure.ts';
import { infusionDueAtMs, infusionRanMs } from './infusion.ts';
import { missingFor } from './openings.ts';
import type { Course, SessionRecord } from './record.ts';
import { doneOf, stateOf } from './record.ts';
import { saidYes } from './screening.ts';
import { FLUSH_MS, IN_USE_MS } from './spans.ts';
import { STATE_WORDS, type StateName } from './states.ts';
import { tasksOf } from './tasks.ts';
import { TROUBLE, type TroubleCard, troubleById } from './trouble.ts';
import { wayOnOf } from './way-on.ts';

/** What to mind in each state, beside the tasks. The current product text and local policy decide. */
const GUIDANCE: Record<StateName, string> = {
  planning:
    'Two people enter height, weight, regimen and lesion, each on their own. Nothing is drawn up until both agree.',
  prepared: 'Keep the infusate covered from light. Use it within 4 h of reconstitution.',
  linePrimed: 'Largest arm vein, elbow preferred; no small vein on the back of the hand. Have cold compresses at hand.',
  infusing: 'Watch the vein. Stop at once if it swells or hurts: the light timer goes on, the infusion timer waits.',
  flushing: 'Dextrose 5 % only. What is in the line is part of the dose.',
  waitingForLight: 'Counted from the START of the infusion. Eye and laser are made ready now.',
  lightDelivery: 'The laser times itself. Press as the beam goes on and off.',
  afterCare:
    'No sun, no bright indoor light until the time on the sheet; ordinary room light helps, darkness does not.',
  discharged: 'Nothing is changed any more; an addendum may be added.',
  stoppedEarly: 'No further drug and no further light. If drug was given, the light precautions hold all the same.',
};

/** What the screens show of a session at a moment. `seq` is that of its last entry. */
export function viewOf(record: SessionRecord, seq: number, at: Moment): SessionView {
  const state = stateOf(record);
  const atMs = at.continuousMs;
  const { order, course } = record;
  const hidden = blind(record);
  const shownOrder = hidden ? null : order;
  const regimen = shownOrder?.regimen ?? null;
  return {
    sessionId: record.sessionId,
    seq,
    practice: record.practice,
    rebased: record.rebased,
    state,
    stateWords: STATE_WORDS[state],
    guidance: GUIDANCE[state],
    patient: record.patient && { patientCode: record.patient.patientCode, birthDate: record.patient.birthDate },
    regimen: regimen && {
      id: regimen.id,
      name: regimen.name,
      onLabel: regimen.onLabel,
      lightStartMin: regimen.lightStartMin,
    },
    offLabelReason: shownOrder?.offLabelReason ?? null,
    orderedBy: shownOrder?.orderedBy ?? null,
    eyes: shownOrder?.lesions.map((lesion) => lesion.eye) ?? [],
    plan: hidden ? null : record.plan,
    differences: [...(record.secondCheck?.differences ?? [])],
    doses: hidden ? null : dosesNow(record, atMs),
    settings: record.settings,
    troubleCards: TROUBLE.filter((card) => card.states.includes(state)).map(cardView),
    troubles: record.troubles.map(({ card, told, ...done }) => ({
      ...doneOf(done),
      card: cardView(troubleById(card)),
      told: told?.words ?? null,
    })),
    line: record.line && { lineMl: record.line.lineMl, primedWith: record.line.primedWith },
    reached: [...record.reached],
    tasks: tasksOf(record, atMs),
    wayOn: wayOn(record, at),
    commands: openings(record, at),
    timers: timersOf(record, atMs).filter((timer) => timer.phase !== 'running' || !OVER.includes(state)),
    course: course && courseView(course, atMs),
    board: boardOf(record, atMs),
    cues: cuesShown(record),
    hushable: hushableNow(record, atMs),
    drugUseByWallMs: record.reconstitutedWallMs === null ? null : record.reconstitutedWallMs + IN_USE_MS,
    lightCareUntilWallMs: course && lightCareOf(course, record.settings, atMs).untilWallMs,
    cautions: cautionsOf(record),
    deviations: [...record.deviations],
    notes: record.notes.length,
    stopped: record.stopped?.reason ?? null,
  };
}

const cardView = ({ id, words, steps, afterwards, source }: TroubleCard) => ({
  id,
  words,
  steps: [...steps],
  afterwards,
  source,
});

const shown = (missing: readonly Missing[]): OpeningView => ({
  open: missing.length === 0,
  missing: missing.map(({ text, untilAtMs }) => ({ text, untilAtMs })),
  withReason: missing.length > 0 && missing.every((one) => !one.firm),
});

function openings(record: SessionRecord, at: Moment): Record<string, OpeningView> {
  const ask = { at, by: null, command: null };
  return Object.fromEntries(COMMAND_KINDS.map((kind) => [kind, shown(missingFor(kind, record, ask))]));
}

function wayOn(record: SessionRecord, at: Moment): SessionView['wayOn'] {
  const way = wayOnOf(record, at.continuousMs);
  if (way === null) return null;
  const { command, eye, words, notBeforeAtMs } = way;
  const early = notBeforeAtMs !== null && at.continuousMs < notBeforeAtMs;
  const opening = shown(missingFor(command, record, { at, by: null, command: null }));
  return early
    ? {
        command,
        eye,
        words,
        open: false,
        withReason: false,
        missing: [{ text: 'the light is being given', untilAtMs: notBeforeAtMs }],
      }
    : { command, eye, words, ...opening };
}

function timersOf(record: SessionRecord, atMs: number): TimerView[] {
  const { course, reconstitutedAtMs } = record;
  const timers: TimerView[] = [];
  if (reconstitutedAtMs !== null && course?.infusion.pumpOffAtMs == null) {
    timers.push(running('drug in use', IN_USE_MS, reconstitutedAtMs + IN_USE_MS));
  }
  if (course === null) return timers;
  const { infusion, flush } = course;
  const leftMs = infusion.plannedMs - infusionRanMs(infusion, atMs);
  const phase = infusion.pumpOffAtMs !== null ? 'done' : infusion.runningSinceAtMs === null ? 'held' : 'running';
  timers.push({
    name: 'infusion',
    eye: null,
    phase,
    plannedMs: infusion.plannedMs,
    dueAtMs: infusionDueAtMs(infusion),
    leftMs: phase === 'running' ? null : leftMs,
  });
  timers.push(running('light window', course.lightDueAtMs - course.t0AtMs, course.lightDueAtMs));
  if (flush !== null && flush.endedAtMs === null) timers.push(running('flush', FLUSH_MS, flush.beganAtMs + FLUSH_MS));
  if (course.secondEyeDueAtMs !== null) {
    timers.push(running('second eye', course.secondEyeDueAtMs - course.t0AtMs, course.secondEyeDueAtMs));
  }
  return [...timers, ...course.exposures.map((exposure) => exposureTimer(exposure, atMs))];
}

function running(name: TimerView['name'], plannedMs: number, dueAtMs: number): TimerView {
  return { name, eye: null, phase: 'running', plannedMs, dueAtMs, leftMs: null };
}

function exposureTimer(exposure: Exposure, atMs: number): TimerView {
  const dueAtMs = exposureDueAtMs(exposure);
  const phase = dueAtMs !== null ? 'running' : isWhole(exposure, atMs) ? 'done' : 'held';
  const leftMs = dueAtMs === null ? exposure.plannedMs - deliveredMs(exposure, atMs) : null;
  return { name: 'exposure', eye: exposure.eye, phase, plannedMs: exposure.plannedMs, dueAtMs, leftMs };
}

function courseView(course: Course, atMs: number): NonNullable<SessionView['course']> {
  const { infusion, flush } = course;
  return {
    t0AtMs: course.t0AtMs,
    t0PressedAtMs: course.t0PressedAtMs,
    t0WallMs: course.t0WallMs,
    t0OffsetMin: course.t0OffsetMin,
    infusionDueAtMs: infusionDueAtMs(infusion),
    infusionPlannedMs: infusion.plannedMs,
    infusionRanBeforeMs: infusion.ranBeforeMs,
    infusionRunningSinceAtMs: infusion.runningSinceAtMs,
    pumpOffAtMs: infusion.pumpOffAtMs,
    held: infusion.runningSinceAtMs === null && infusion.pumpOffAtMs === null,
    flushBeganAtMs: flush?.beganAtMs ?? null,
    flushEndedAtMs: flush?.endedAtMs ?? null,
    lightDueAtMs: course.lightDueAtMs,
    windowOpen: atMs >= course.lightDueAtMs,
    secondEyeDueAtMs: course.secondEyeDueAtMs,
    exposures: course.exposures.map((exposure) => exposureView(exposure, atMs)),
    holds: infusion.holds.map((hold) => ({ ...hold })),
  };
}

function exposureView(exposure: Exposure, atMs: number): ExposureView {
  const shining = exposure.beams.find((beam) => beam.offAtMs === null);
  return {
    eye: exposure.eye,
    plannedMs: exposure.plannedMs,
    irradianceMwPerCm2: exposure.irradianceMwPerCm2,
    orderedJPerCm2: exposure.orderedJPerCm2,
    deliveredBeforeMs: deliveredMs(exposure, shining?.onAtMs ?? atMs),
    beamOnSinceAtMs: shining?.onAtMs ?? null,
    beams: exposure.beams.map(({ onAtMs, offAtMs }) => ({ onAtMs, offAtMs })),
    whole: isWhole(exposure, atMs),
  };
}

function cautionsOf(record: SessionRecord): string[] {
  const said = record.screening === null ? [] : saidYes(record.screening.answers);
  const tooShort = tooShortSays(record.settings);
  return [
    ...(tooShort === null ? [] : [tooShort]),
    ...(blind(record) ? [] : (record.plan?.cautions ?? [])),
    ...(record.differed > 0 && record.secondCheck?.agrees
      ? ['The two computations differed before they agreed: look at them once more.']
      : []),
    ...said.map((question) => `${question.words}: ${question.advice}`),
  ];
}
