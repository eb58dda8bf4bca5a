import { questionsAbout } from '../dosing/body-entry.ts';
import type { Moment } from '../time/moment.ts';
import { clockTime } from '../time/show.ts';
import { type CheckId, checkById } from './checks.ts';
import type { Command, CommandKind, Eye } from './commands.ts';
import { repeatingNow } from './cue-occurrences.ts';
import type { Difference } from './events.ts';
import { type Beam, beamIsOn, deliveredMs, isWhole, lastBeam } from './exposure.ts';
import { infusionDueAtMs, infusionRanMs } from './infusion.ts';
import { type Author, samePerson } from './person.ts';
import { type Course, checkKey, type SessionRecord, stateOf } from './record.ts';
import { needingDecision } from './screening.ts';
import { FLUSH_MS, IN_USE_MS } from './spans.ts';
import { STATE_WORDS } from './states.ts';
import { troubleById } from './trouble.ts';

/** One thing a command waits for, in words a nurse can act on. */
export interface Missing {
  readonly text: string;
  /** The continuous instant at which it will have come about by itself; null where a person has to act. */
  readonly untilAtMs: number | null;
  /** Steps after the drug is made up may go on with a reason, as a deviation. What is `firm` never may. */
  readonly firm: boolean;
}

/** What is asked: may this be done now, by this person? Without `command`, whether it is open at all. */
export interface Ask {
  readonly at: Moment;
  readonly by: Author | null;
  readonly command: Command | null;
}

/** Differences between two computations, side by side in one sentence. */
export const apart = (differences: readonly Difference[]): string =>
  differences.map(({ what, first, second }) => `${what}: first ${first}, second ${second}`).join('; ');

type Condition = (record: SessionRecord, ask: Ask) => Missing | null;

const firm = (text: string): Missing => ({ text, untilAtMs: null, firm: true });
const soft = (text: string, untilAtMs: number | null = null): Missing => ({ text, untilAtMs, firm: false });

/** From this share of the flush's span on, its step is open. Local practice. */
const FLUSH_ENOUGH = 0.75;

/** Volume of the flush, mL of dextrose 5 %. Common practice, no source. */
export const FLUSH_ML = 5;

/** The eye whose turn it is: the one that has light, or the first that has not had it; the last once all have. */
export function eyeInTurn(record: SessionRecord, atMs: number): Eye | null {
  const exposures = record.course?.exposures ?? [];
  const next = exposures.find(beamIsOn) ?? exposures.find((exposure) => !isWhole(exposure, atMs)) ?? exposures.at(-1);
  return next?.eye ?? record.order?.lesions[0]?.eye ?? null;
}

const checked =
  (item: CheckId): Condition =>
  (record) => {
    const check = checkById(item);
    return record.checks[item] === undefined ? (check.states.includes('planning') ? firm : soft)(check.missing) : null;
  };

const eyeAsked = (record: SessionRecord, ask: Ask): Eye | null =>
  ask.command !== null && 'eye' in ask.command && ask.command.eye !== undefined
    ? ask.command.eye
    : eyeInTurn(record, ask.at.continuousMs);

const checkedForEye =
  (item: CheckId): Condition =>
  (record, ask) => {
    const eye = eyeAsked(record, ask);
    if (eye === null || record.checks[checkKey(item, eye)] !== undefined) return null;
    return soft(`${eye} eye: ${checkById(item).missing}`);
  };

const unexpired: Condition = (record, ask) => {
  if (record.reconstitutedAtMs === null) return null;
  const expiresAtMs = record.reconstitutedAtMs + IN_USE_MS;
  if (ask.at.continuousMs < expiresAtMs) return null;
  const wallMs = ask.at.wallMs + expiresAtMs - ask.at.continuousMs;
  return soft(
    `the drug was to be used by ${clockTime(wallMs, ask.at.offsetMin)}, 4 h after reconstitution: discard it`,
  );
};

const owesAfterCare = (record: SessionRecord): boolean => record.course !== null;
const afterDrug =
  (condition: Condition): Condition =>
  (record, ask) =>
    owesAfterCare(record) ? condition(record, ask) : null;

/** A beam cannot have gone off before it was on, nor on before the one before it was off, or before the flush. */
function earliestFor(edge: 'on' | 'off', beam: Beam, course: Course): number {
  if (edge === 'off') return beam.onAtMs;
  const offs = course.exposures.flatMap((exposure) =>
    exposure.beams.map((one) => one.offAtMs ?? Number.NEGATIVE_INFINITY),
  );
  return Math.max(course.flush?.endedAtMs ?? course.t0AtMs, ...offs.filter((offAtMs) => offAtMs <= beam.onAtMs));
}

/** Every named condition. A new one is added here and listed under the commands that wait for it. */
export const CONDITIONS = {
  identified: (record) => (record.patient === null ? firm('the patient is not identified by two identifiers') : null),
  consented: checked('consent'),
  ordered: (record) => (record.order === null ? firm('no regimen and eye are ordered by a named physician') : null),
  screened: (record) => {
    if (record.screening === null) return firm('the screening questions are not answered');
    const { answers, decision } = record.screening;
    const open = decision === undefined ? needingDecision(answers, record.settings.profile) : [];
    const words = open.map((question) => question.words).join('; ');
    return open.length > 0 ? firm(`a physician's named decision is needed: ${words}`) : null;
  },
  measured: (record) => (record.measured === null ? firm('height and weight are not entered') : null),
  planned: (record) => (record.plan === null ? firm('no dose is computed yet') : null),
  twiceComputed: (record) => {
    if (record.secondCheck === null) return firm('a second person has not computed the dose independently');
    return record.secondCheck.agrees
      ? null
      : firm(`the two computations differ: ${apart(record.secondCheck.differences)}`);
  },
  planEntered: (record) =>
    record.order === null || record.measured === null ? firm('the first entries are not complete') : null,
  otherHands: (record, { by }) => {
    const first = [record.order, record.measured].flatMap((entry) => (entry === null ? [] : [entry.by]));
    const same = by !== null && first.some((person) => samePerson(person, by));
    return same ? firm('the second computation is for another person than the one who entered the first') : null;
  },
  bodyLikely: (_record, { command }) => {
    if (command?.kind !== 'measure' && command?.kind !== 'second-check') return null;
    const open = questionsAbout(command.heightCm, command.weightKg).filter(({ id }) => !command.asked?.includes(id));
    return open.length > 0 ? firm(open.map((question) => question.says).join(' ')) : null;
  },
  bothEyesAllowed: (record) => {
    const { order, settings } = record;
    if (order === null || order.lesions.length < 2 || order.bothEyes !== undefined) return null;
    if (order.earlierTreatment === undefined) return firm('both eyes: how an earlier treatment went is not entered');
    if (settings.profile === 'us' && order.earlierTreatment !== 'tolerated') {
      return firm(
        'never treated before, or not well: one eye now, the other a week later, unless the physician decides otherwise by name',
      );
    }
    if (settings.profile === 'eu') {
      return firm('there are no data on both eyes at once: the physician decides by name');
    }
    return null;
  },
  aggressiveFirst: (record, ask) =>
    (record.order?.lesions.length ?? 0) > 1 ? checked('aggressive-first')(record, ask) : null,
  sleepLookedAt: (record) => {
    const open = record.sleeps.filter((sleep) => sleep.looked === null);
    const sleptS = open.reduce((sum, sleep) => sum + sleep.sleptMs, 0) / 1000;
    return open.length > 0
      ? soft(`this computer slept for ${sleptS.toFixed(0)} s: look at the pump and say what it did`)
      : null;
  },
  sleptBefore: (record) =>
    record.sleeps.some((sleep) => sleep.looked === null)
      ? null
      : firm('this computer has not slept since somebody looked'),
  beamSettable: (record, { command }) => {
    const beam = record.course && lastBeam(record.course);
    if (record.course === null || beam === null) return firm('the beam has not been on');
    if (command?.kind !== 'beam-set-back') return null;
    if (command.edge === 'off' && beam.offAtMs === null) return firm('the beam is still on');
    const { latePressS } = record.settings;
    if (command.agoS + (beam.setBackS?.[command.edge] ?? 0) > latePressS)
      return firm(`at most ${latePressS} s can be set back at this site: enter more as a deviation`);
    const movedAtMs = (command.edge === 'on' ? beam.onAtMs : (beam.offAtMs ?? 0)) - command.agoS * 1000;
    return movedAtMs < earliestFor(command.edge, beam, record.course)
      ? firm('that would be before the light could have been: look at the seconds again')
      : null;
  },
  newVein: (record) => {
    const hold = record.course?.infusion.holds.at(-1);
    const found = record.troubles.some(({ card, atMs }) => card === 'extravasation' && atMs >= (hold?.heldAtMs ?? 0));
    return hold?.reason === 'extravasation' || found
      ? soft('after extravasation: another vein, and the physician says to go on')
      : null;
  },
  troublesTold: (record) => {
    const open = record.troubles.filter((trouble) => trouble.told === null);
    return open.length > 0
      ? soft(open.map((trouble) => `${troubleById(trouble.card).words}: what was done is not entered`).join('; '))
      : null;
  },
  troubleMet: (record, { command }) => {
    const meant = record.troubles.filter(({ card }) => command?.kind !== 'trouble-told' || card === command.card);
    return meant.length === 0 ? firm('no such trouble was entered in this session') : null;
  },
  troubleHere: (record, { command }) => {
    if (command?.kind !== 'trouble') return null;
    const card = troubleById(command.card);
    const words = card.states.map((state) => STATE_WORDS[state]).join(', ');
    return card.states.includes(stateOf(record)) ? null : firm(`"${card.words}" is for: ${words}`);
  },
  oneLightFigure: (_record, { command }) =>
    command?.kind === 'read-back' && (command.irradianceMwPerCm2 === undefined) === (command.powerMw === undefined)
      ? firm('enter what the laser shows: either power or irradiance')
      : null,
  unexpired,
  drugRead: (record, { at }) => {
    if (record.drug === null) return soft('lot and expiry of the vial are not entered');
    const today = new Date(at.wallMs + at.offsetMin * 60_000).toISOString().slice(0, 10);
    return record.drug.expires < today ? soft(`the vial expired on ${record.drug.expires}`) : null;
  },
  inspected: checked('inspected'),
  d5wOnly: checked('d5w-only'),
  soundHeard: checked('sound-heard'),
  timeOut: checked('time-out'),
  lineKnown: (record) => (record.line === null ? soft('what the line holds is not entered') : null),
  filter: checked('filter'),
  bloodReturn: checked('blood-return'),
  patency: checked('patency'),
  pumpRuns: (record) =>
    record.course?.infusion.runningSinceAtMs == null ? firm('the infusion is held already') : null,
  pumpHeld: (record) => (record.course?.infusion.runningSinceAtMs == null ? null : firm('the infusion is not held')),
  withinLatePress: (record, { command }) =>
    command?.kind === 'set-back' && command.agoS > record.settings.latePressS
      ? firm(`at most ${record.settings.latePressS} s can be set back at this site: enter more as a deviation`)
      : null,
  notSetBack: (record) =>
    record.course !== null && record.course.t0AtMs !== record.course.t0PressedAtMs
      ? firm('the start was set back once already')
      : null,
  infusionRan: (record, { at }) => {
    const infusion = record.course?.infusion;
    if (infusion === undefined || infusionRanMs(infusion, at.continuousMs) >= infusion.plannedMs) return null;
    const dueAtMs = infusionDueAtMs(infusion);
    return dueAtMs === null
      ? soft('the infusion is held before its end: resume it')
      : soft('the pump has not reached its end', dueAtMs);
  },
  flushRan: (record, { at }) => {
    const beganAtMs = record.course?.flush?.beganAtMs;
    if (beganAtMs === undefined) return null;
    const enoughAtMs = beganAtMs + FLUSH_MS * FLUSH_ENOUGH;
    return at.continuousMs < enoughAtMs ? soft('the flush is given over about 60 s', enoughAtMs) : null;
  },
  flushVolume: (_record, { command }) =>
    command?.kind === 'end-flush' && command.flushMl < FLUSH_ML
      ? soft(`less than ${FLUSH_ML} mL was flushed: part of the dose may stay in the line`)
      : null,
  windowOpen: (record, { at }) => {
    const dueAtMs = record.course?.lightDueAtMs;
    return dueAtMs !== undefined && at.continuousMs < dueAtMs ? soft('the light window is not open', dueAtMs) : null;
  },
  drops: checkedForEye('drops'),
  lensOn: checkedForEye('lens-on'),
  eyeTimeOut: checkedForEye('eye-time-out'),
  settingsRead: (record, ask) => {
    const eye = eyeAsked(record, ask);
    const seen = eye === null ? undefined : record.readBacks[eye];
    if (seen === undefined) return soft(`${eye ?? 'first'} eye: the laser's settings are not read back`);
    return seen.agrees ? null : soft(`${eye} eye: ${seen.says}`);
  },
  beamIsOff: (record) => (record.course?.exposures.some(beamIsOn) ? firm('the beam is on already') : null),
  beamIsOn: (record) => (record.course?.exposures.some(beamIsOn) ? null : firm('the beam is off')),
  beamIsDone: (record) =>
    record.course?.exposures.some(beamIsOn) ? firm('the beam is still on: switch it off first') : null,
  eyeOrdered: (record, ask) => {
    const eye = eyeAsked(record, ask);
    const ordered = record.order?.lesions.some((lesion) => lesion.eye === eye) ?? false;
    return ordered ? null : firm(`the ${eye} eye is not ordered: enter what happened as a deviation`);
  },
  eyeTurn: (record, ask) => {
    const eye = eyeAsked(record, ask);
    const turn = eyeInTurn(record, ask.at.continuousMs);
    return eye === turn ? null : soft(`it is the ${turn} eye's turn`);
  },
  lightLeft: (record, ask) => {
    const exposure = record.course?.exposures.find((one) => one.eye === eyeAsked(record, ask));
    if (exposure === undefined || !isWhole(exposure, ask.at.continuousMs)) return null;
    return soft(`the ${exposure.eye} eye has had its whole light`);
  },
  secondEyeInTime: (record, ask) => {
    const { secondEyeDueAtMs: limitAtMs = null, exposures = [] } = record.course ?? {};
    const exposure = exposures.find((one) => one.eye === eyeAsked(record, ask));
    const others = exposures.filter((one) => one !== exposure);
    const second = exposure !== exposures[0] || others.some((one) => one.beams.length > 0);
    if (limitAtMs === null || exposure === undefined || !second || exposure.beams.length > 0) return null;
    return ask.at.continuousMs > limitAtMs ? soft('the last moment to begin the second eye is past') : null;
  },
  lightGiven: (record, { at }) => {
    const short = (record.course?.exposures ?? []).filter((exposure) => !isWhole(exposure, at.continuousMs));
    const words = short.map((exposure) => {
      const givenS = (deliveredMs(exposure, at.continuousMs) / 1000).toFixed(0);
      return `${exposure.eye} eye: ${givenS} of ${(exposure.plannedMs / 1000).toFixed(0)} s of light given`;
    });
    return words.length > 0 ? soft(words.join('; ')) : null;
  },
  bracelet: afterDrug(checked('bracelet')),
  sheetGiven: afterDrug(checked('sheet-given')),
  reactionsAsked: afterDrug((record) =>
    record.reactions.length === 0 ? soft('reactions, or that there were none, are not entered') : null,
  ),
  reviewSet: afterDrug((record) => (record.review === null ? soft('the review date is not set') : null)),
  cueRepeating: (record, { at, command }) => {
    const meant = repeatingNow(record, at.continuousMs).filter(
      ({ cue }) => command?.kind !== 'cue-heard' || cue === command.cue,
    );
    return meant.length === 0 ? firm('no cue is being repeated, so there is none to hush') : null;
  },
  checkBelongs: (record, { command }) => {
    if (command === null || (command.kind !== 'check' && command.kind !== 'uncheck')) return null;
    const check = checkById(command.item);
    if (!check.states.includes(stateOf(record))) {
      return firm(
        `"${check.words}" is confirmed while ${check.states.map((state) => STATE_WORDS[state]).join(' or ')}`,
      );
    }
    if (check.perEye && !record.order?.lesions.some((lesion) => lesion.eye === command.eye))
      return firm('say for which ordered eye');
    if (!check.perEye && command.eye !== undefined) return firm('this is not confirmed for each eye');
    return null;
  },
  notYetChecked: (record, { command }) =>
    command?.kind === 'check' && record.checks[checkKey(command.item, command.eye)] !== undefined
      ? firm('that is confirmed already')
      : null,
  checkedBefore: (record, { command }) =>
    command?.kind === 'uncheck' && record.checks[checkKey(command.item, command.eye)] === undefined
      ? firm('that is not confirmed, so there is nothing to take back')
      : null,
} as const satisfies Record<string, Condition>;

export type ConditionName = keyof typeof CONDITIONS;

/** What each command waits for. One that is not listed waits for nothing but its state. */
export const WAITS_FOR: Partial<Record<CommandKind, readonly ConditionName[]>> = {
  measure: ['bodyLikely'],
  'second-check': ['planEntered', 'otherHands', 'bodyLikely'],
  prepare: [
    'identified',
    'consented',
    'ordered',
    'bothEyesAllowed',
    'aggressiveFirst',
    'screened',
    'measured',
    'planned',
    'twiceComputed',
  ],
  'prime-line': ['unexpired', 'drugRead', 'inspected', 'd5wOnly', 'soundHeard', 'timeOut'],
  'start-pump': ['unexpired', 'lineKnown', 'filter', 'bloodReturn', 'patency'],
  hold: ['pumpRuns'],
  resume: ['pumpHeld', 'newVein'],
  'set-back': ['notSetBack', 'withinLatePress'],
  trouble: ['troubleHere'],
  'trouble-told': ['troubleMet'],
  looked: ['sleptBefore'],
  'begin-flush': ['sleepLookedAt', 'infusionRan'],
  'end-flush': ['sleepLookedAt', 'flushRan', 'flushVolume'],
  'beam-set-back': ['beamSettable'],
  'beam-on': [
    'sleepLookedAt',
    'beamIsOff',
    'eyeOrdered',
    'eyeTurn',
    'windowOpen',
    'drops',
    'lensOn',
    'eyeTimeOut',
    'settingsRead',
    'lightLeft',
    'secondEyeInTime',
  ],
  'beam-off': ['beamIsOn'],
  'cue-heard': ['cueRepeating'],
  'read-back': ['eyeOrdered', 'oneLightFigure'],
  'end-light': ['sleepLookedAt', 'beamIsDone', 'lightGiven'],
  discharge: ['bracelet', 'sheetGiven', 'reactionsAsked', 'reviewSet', 'troublesTold'],
  check: ['checkBelongs', 'notYetChecked'],
  uncheck: ['checkBelongs', 'checkedBefore'],
};
