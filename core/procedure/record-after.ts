import type { CommandOf } from './commands.ts';
import { pumpRunsMs } from './doses.ts';
import type { SessionEvent } from './events.ts';
import { type Beam, beamIsOn, beamOff, beamOn, type Exposure, exposureDueAtMs, isWhole, lastBeam } from './exposure.ts';
import { holdInfusion, pumpOff, resumeInfusion, setBackInfusion, startInfusion, takenBack } from './infusion.ts';
import {
  type Course,
  checkKey,
  type Done,
  type Flush,
  type Ordered,
  type RungName,
  type SessionRecord,
  shiftInstants,
  type Told,
  type Trouble,
} from './record.ts';
import type { TroubleId } from './trouble.ts';

const MINUTE_MS = 60_000;

/** What the record says once an entry is in it. Pure: the same record and entry give the same record, always. */
export function recordAfter(before: SessionRecord, event: SessionEvent): SessionRecord {
  const done = doneBy(event);
  const record = deviating(before, event, done);
  switch (event.type) {
    case 'identify':
      return { ...record, patient: keep(event.content, done) };
    case 'order':
      return {
        ...record,
        order: orderOf(event, done),
        plan: event.found.plan ?? null,
        secondCheck: null,
        checks: without(record.checks, 'aggressive-first'),
      };
    case 'screen':
      return { ...record, screening: keep(event.content, done) };
    case 'measure':
      return { ...record, measured: keep(event.content, done), plan: event.found.plan ?? null, secondCheck: null };
    case 'second-check': {
      const { agrees = false, differences = [] } = event.found;
      const differed = record.differed + (agrees ? 0 : 1);
      return { ...record, differed, secondCheck: { ...done, agrees, differences } };
    }
    case 'prepare': {
      const agoMs = event.content.reconstitutedAgoS * 1000;
      return { ...record, reconstitutedAtMs: done.atMs - agoMs, reconstitutedWallMs: done.wallMs - agoMs };
    }
    case 'drug':
      return { ...record, drug: keep(event.content, done) };
    case 'line':
      return { ...record, line: keep(event.content, done) };
    case 'start-pump':
      return { ...record, course: courseFrom(record, done) };
    case 'read-back': {
      const { agrees = false, says = '' } = event.found;
      const readBack = { ...keep(event.content, done), agrees, says };
      return { ...record, readBacks: { ...record.readBacks, [event.content.eye]: readBack } };
    }
    case 'reactions':
      return { ...record, reactions: [...record.reactions, keep(event.content, done)] };
    case 'review':
      return { ...record, review: keep(event.content, done) };
    case 'trouble':
      return {
        ...record,
        troubles: [...record.troubles, { ...done, card: event.content.card, told: null }],
        course: record.course && interrupted(record.course, event.content.card, done.atMs),
      };
    case 'trouble-told': {
      const { card, words } = event.content;
      return { ...record, troubles: toldOf(record.troubles, card, { ...done, words }) };
    }
    case 'slept': {
      const { sleptMs, byWallMs } = event.content;
      const counted = record.course !== null && record.course.infusion.runningSinceAtMs !== null;
      return { ...record, sleeps: [...record.sleeps, { ...done, sleptMs, byWallMs, counted, looked: null }] };
    }
    case 'looked':
      return looked(record, event.content.pump, done);
    case 'check':
      return { ...record, checks: { ...record.checks, [checkKey(event.content.item, event.content.eye)]: done } };
    case 'uncheck':
      return { ...record, checks: without(record.checks, checkKey(event.content.item, event.content.eye)) };
    case 'note':
    case 'addendum':
      return { ...record, notes: [...record.notes, { ...done, words: event.content.words }] };
    case 'deviation': {
      const { words, reason } = event.content;
      return { ...record, deviations: [...record.deviations, { ...done, words, reason }] };
    }
    case 'stop-early':
      return {
        ...record,
        stopped: keep(event.content, done),
        course: record.course && halted(record.course, done.atMs),
      };
    case 'cue-sounded': {
      const { cue, dueAtMs, outcome, lateMs } = event.content;
      return { ...record, cuesSounded: [...record.cuesSounded, { cue, dueAtMs, outcome, lateMs }] };
    }
    case 'cue-heard':
      return { ...record, cuesHeard: [...record.cuesHeard, keep(event.content, done)] };
    case 'beam-set-back':
      return { ...record, course: record.course && beamSetBack(record.course, event.content) };
    case 'exposure-due':
      return ring(record, `exposure-due:${event.content.eye}`, event.content.dueAtMs, done.atMs);
    case 'infusion-due':
    case 'flush-due':
    case 'light-due':
    case 'second-eye-due':
    case 'drug-expiry-due':
      return ring(record, event.type, event.content.dueAtMs, done.atMs);
    case 'rebase':
      return { ...shiftInstants(record, event.content.shiftMs), boot: event.content.toBoot, rebased: true };
    default:
      return record.course === null ? record : { ...record, course: courseAfter(record.course, event, done) };
  }
}

export function doneBy({ at, by }: SessionEvent): Done {
  return { by, atMs: at.continuousMs, wallMs: at.wallMs, offsetMin: at.offsetMin };
}

function keep<C extends { kind: string }>(content: C, done: Done): Omit<C, 'kind'> & Done {
  const { kind: _kind, ...rest } = content;
  return { ...rest, ...done };
}

function without(checks: SessionRecord['checks'], key: string): SessionRecord['checks'] {
  const { [key]: _taken, ...others } = checks;
  return others;
}

/** What was done is told of every trouble of that kind that waits for it; where none does, of the last once more. */
function toldOf(troubles: readonly Trouble[], card: TroubleId, told: Told): Trouble[] {
  const waiting = troubles.filter((one) => one.card === card && one.told === null);
  const last = troubles.findLast((one) => one.card === card);
  return troubles.map((one) =>
    waiting.includes(one) || (waiting.length === 0 && one === last) ? { ...one, told } : one,
  );
}

/** A step that went on although something was missing stands among the deviations, with its reason. */
function deviating(record: SessionRecord, event: SessionEvent, done: Done): SessionRecord {
  const { missing = [] } = event.found;
  const reason = 'override' in event.content ? event.content.override?.reason : undefined;
  if (missing.length === 0 || reason === undefined) return record;
  return { ...record, deviations: [...record.deviations, { ...done, words: missing.join('; '), reason }] };
}

/** T0: both timers begin here, and nowhere else. */
function courseFrom(record: SessionRecord, { atMs, wallMs, offsetMin }: Done): Course {
  const { order, plan } = record;
  if (order === null || plan === null) throw new Error('no infusion begins without an order and a plan');
  const { regimen } = order;
  const secondEye = order.lesions.length > 1 ? regimen.secondEyeLimitMin : null;
  return {
    t0AtMs: atMs,
    t0PressedAtMs: atMs,
    t0WallMs: wallMs,
    t0OffsetMin: offsetMin,
    infusion: startInfusion(atMs, pumpRunsMs(record)),
    lightDueAtMs: atMs + regimen.lightStartMin * MINUTE_MS,
    secondEyeDueAtMs: secondEye === null ? null : atMs + secondEye * MINUTE_MS,
    flush: null,
    exposures: plan.light.map(({ eye, exposureS, irradianceMwPerCm2, fluenceJPerCm2 }) => ({
      eye,
      plannedMs: exposureS * 1000,
      irradianceMwPerCm2,
      orderedJPerCm2: fluenceJPerCm2,
      beams: [],
    })),
  };
}

function courseAfter(course: Course, event: SessionEvent, { atMs }: Done): Course {
  switch (event.type) {
    case 'hold':
      return { ...course, infusion: holdInfusion(course.infusion, atMs, event.content.reason) };
    case 'resume':
      return { ...course, infusion: resumeInfusion(course.infusion, atMs) };
    case 'set-back':
      return setBack(course, event.content.agoS * 1000);
    case 'begin-flush':
      return {
        ...course,
        infusion: pumpOff(course.infusion, atMs),
        flush: { beganAtMs: atMs, endedAtMs: null, flushMl: null, deliveredMg: null, notDeliveredMg: null },
      };
    case 'end-flush':
      return { ...course, flush: course.flush && flushAfter(course.flush, event, atMs) };
    case 'beam-on':
      return withExposure(
        course,
        (exposure) => exposure.eye === event.content.eye,
        (exposure) => beamOn(exposure, atMs),
      );
    case 'beam-off':
      return withExposure(course, beamIsOn, (exposure) => beamOff(exposure, offInstant(exposure, event.content, atMs)));
    default:
      return course;
  }
}

/**
 * A laser that ended by itself did so when its ordered seconds were over, not when somebody found time to say so.
 * Where they were over before the beam came on, what was added is not known: it is counted to the press.
 */
function offInstant(exposure: Exposure, { endedByLaser }: CommandOf<'beam-off'>, atMs: number): number {
  const dueAtMs = exposureDueAtMs(exposure);
  const onAtMs = exposure.beams.at(-1)?.onAtMs ?? atMs;
  return endedByLaser && dueAtMs !== null && !isWhole(exposure, onAtMs) ? Math.min(dueAtMs, atMs) : atMs;
}

function withExposure(course: Course, which: (one: Exposure) => boolean, change: (one: Exposure) => Exposure): Course {
  return { ...course, exposures: course.exposures.map((exposure) => (which(exposure) ? change(exposure) : exposure)) };
}

function ring(record: SessionRecord, name: RungName, dueAtMs: number, rungAtMs: number): SessionRecord {
  return { ...record, rung: { ...record.rung, [name]: { rungAtMs, dueAtMs } } };
}

/** The beam went on or off before the key was pressed: the last stretch moves, the press stays in its own entry. */
function beamSetBack(course: Course, { edge, agoS }: CommandOf<'beam-set-back'>): Course {
  const last = lastBeam(course);
  if (last === null) return course;
  const moved = (beam: Beam): Beam => ({
    onAtMs: edge === 'on' ? beam.onAtMs - agoS * 1000 : beam.onAtMs,
    offAtMs: edge === 'off' && beam.offAtMs !== null ? beam.offAtMs - agoS * 1000 : beam.offAtMs,
    setBackS: {
      on: (beam.setBackS?.on ?? 0) + (edge === 'on' ? agoS : 0),
      off: (beam.setBackS?.off ?? 0) + (edge === 'off' ? agoS : 0),
    },
  });
  return withExposure(
    course,
    (exposure) => exposure.beams.includes(last),
    (exposure) => ({ ...exposure, beams: exposure.beams.map((beam) => (beam === last ? moved(beam) : beam)) }),
  );
}

/** The pump was on before the key was pressed: T0 and everything counted from it move, the press stays on record. */
function setBack(course: Course, byMs: number): Course {
  return {
    ...course,
    t0AtMs: course.t0AtMs - byMs,
    t0WallMs: course.t0WallMs - byMs,
    infusion: setBackInfusion(course.infusion, byMs),
    lightDueAtMs: course.lightDueAtMs - byMs,
    secondEyeDueAtMs: course.secondEyeDueAtMs === null ? null : course.secondEyeDueAtMs - byMs,
  };
}

function orderOf({ content, found }: Extract<SessionEvent, { type: 'order' }>, done: Done): Ordered {
  const { regimen, lesions } = found;
  if (regimen === undefined || lesions === undefined)
    throw new Error('an order is entered with its regimen and lesions');
  return { ...keep(content, done), regimen, lesions };
}

function flushAfter(
  flush: Flush,
  { content, found }: Extract<SessionEvent, { type: 'end-flush' }>,
  atMs: number,
): Flush {
  const { deliveredMg = null, notDeliveredMg = null } = found;
  return { ...flush, endedAtMs: atMs, flushMl: content.flushMl, deliveredMg, notDeliveredMg };
}

/** A pump that stood still while the machine slept has not infused: the counts ran on, and are taken back. */
function looked(record: SessionRecord, pump: CommandOf<'looked'>['pump'], done: Done): SessionRecord {
  const open = record.sleeps.filter((sleep) => sleep.looked === null && sleep.counted);
  const stoodMs = open.reduce((sum, sleep) => sum + sleep.sleptMs, 0);
  const sleeps = record.sleeps.map((sleep) =>
    sleep.looked === null ? { ...sleep, looked: { ...done, pump } } : sleep,
  );
  const { course } = record;
  if (pump !== 'stood still' || course === null || stoodMs === 0) return { ...record, sleeps };
  const { 'infusion-due': _rung, ...rung } = record.rung;
  return { ...record, sleeps, rung, course: { ...course, infusion: takenBack(course.infusion, stoodMs) } };
}

/** Trouble takes the pump and the beam off; nothing that is off already is touched. */
function interrupted(course: Course, card: string, atMs: number): Course {
  const runs = course.infusion.runningSinceAtMs !== null;
  const infusion = runs ? holdInfusion(course.infusion, atMs, card) : course.infusion;
  return withExposure({ ...course, infusion }, beamIsOn, (exposure) => beamOff(exposure, atMs));
}

/** An early stop takes the pump and the beam off with it. */
function halted(course: Course, atMs: number): Course {
  const infusion = course.infusion.pumpOffAtMs === null ? pumpOff(course.infusion, atMs) : course.infusion;
  return withExposure({ ...course, infusion }, beamIsOn, (exposure) => beamOff(exposure, atMs));
}
