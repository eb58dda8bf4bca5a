import { adjacencyMapToArray, getAdjacencyMap } from 'xstate/graph';
import type { CheckId } from '../../core/procedure/checks.ts';
import { COMMAND_KINDS, type Command, type CommandKind, type Eye } from '../../core/procedure/commands.ts';
import { eyeInTurn } from '../../core/procedure/conditions.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { eventOf, type SessionEvent } from '../../core/procedure/events.ts';
import { beamIsOn, isWhole } from '../../core/procedure/exposure.ts';
import { BUILT_IN, findingsFor } from '../../core/procedure/findings.ts';
import { procedureMachine } from '../../core/procedure/machine.ts';
import { missingFor } from '../../core/procedure/openings.ts';
import { type Person, STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type SessionRecord, stateOf } from '../../core/procedure/record.ts';
import type { Session } from '../../core/procedure/session.ts';
import { tasksOf } from '../../core/procedure/tasks.ts';
import {
  ALL_NO,
  LEFT,
  momentAt,
  NURSE,
  OPENED_AT_MS,
  OPERATOR,
  orderOf,
  RIGHT,
  SECOND_NURSE,
  sampleOf,
  settingsFor,
} from '../session-steps.ts';

/** A walk over everything a session can come to, by commands and due instants, and what may be asked on the way. */

/** A step of the walk, from one situation to the next, by a command or the clock. */
export interface Way {
  readonly from: Session;
  readonly event: SessionEvent;
  readonly to: Session;
}

/** Every way that leads somewhere, from every situation that can be reached with an order for these eyes. */
export function walk(lesions: readonly (typeof RIGHT | typeof LEFT)[]): Way[] {
  const map = getAdjacencyMap(procedureMachine, {
    input: { sessionId: 'session-one', practice: false, at: momentAt(OPENED_AT_MS), by: NURSE },
    events: (session) => eventsFrom(session, lesions),
    serializeState: (session) => situationOf(session),
    serializeEvent: ({ type, content }) => `${type} ${JSON.stringify(content)}`,
    limit: 400_000,
  });
  return adjacencyMapToArray(map).map(({ state, event, nextState }) => ({ from: state, event, to: nextState }));
}

const named = new WeakMap<Session, string>();

/** What tells one situation from another, instants left out, so that the walk has an end. */
export function situationOf(session: Session): string {
  const name = named.get(session) ?? nameOf(session);
  named.set(session, name);
  return name;
}

function nameOf({ context: record, value }: Session): string {
  const atMs = latestMs(record);
  const state = stateOf(record);
  const tasks = tasksOf(record, atMs).map(({ id, done, trouble }) => `${id} ${done !== null} ${trouble !== null}`);
  const parts: unknown[] = [value, tasks];
  if (state === 'planning') parts.push(record.plan !== null, record.secondCheck?.agrees);
  if (state === 'prepared' || state === 'linePrimed') parts.push(record.rung['drug-expiry-due'] !== undefined);
  if (state === 'stoppedEarly' || state === 'afterCare') parts.push(record.course !== null);
  if (state === 'infusing' && record.course !== null) {
    parts.push(record.course.t0AtMs === record.course.t0PressedAtMs, Object.keys(record.rung).sort());
  }
  if (state === 'flushing' || state === 'waitingForLight' || state === 'lightDelivery') {
    const { rung, course } = record;
    const telling = state === 'lightDelivery' ? ['second-eye-due'] : ['light-due', 'flush-due'];
    parts.push(telling.filter((name) => name in rung));
    parts.push(course?.exposures.map((one) => [beamIsOn(one), one.beams.length > 0, isWhole(one, atMs)]));
  }
  return JSON.stringify(parts);
}

/** The last instant at which anything of a record happened. */
export function latestMs(record: SessionRecord): number {
  const happened = /^(at|rungAt|beganAt|endedAt|onAt|offAt|heldAt|resumedAt|pumpOffAt)Ms$/;
  const latest = (value: unknown): number => {
    if (value === null || typeof value !== 'object') return 0;
    return Math.max(
      0,
      ...Object.entries(value).map(([key, inner]) =>
        typeof inner === 'number' ? (happened.test(key) ? inner : 0) : latest(inner),
      ),
    );
  };
  return latest(record);
}

/** The instant that comes due next or, until then, whatever a person may try a second later. */
function eventsFrom(session: Session, lesions: readonly (typeof RIGHT | typeof LEFT)[]): SessionEvent[] {
  const record = session.context;
  const nowMs = latestMs(record) + 1000;
  const [due] = duesOf(record);
  const rings = due === undefined ? [] : [eventOf(due, {}, momentAt(Math.max(due.dueAtMs, nowMs)), STATION_AUTHOR)];
  if (due !== undefined && due.dueAtMs <= nowMs) return rings;
  const tries = triesIn(record, nowMs, lesions).flatMap((command) => asEvent(session, command, nowMs) ?? []);
  return [...rings, ...tries];
}

/** A command as the event it would become, whether or not anything takes it. Null where it can come to no plan. */
export function asEvent(session: Session, command: Command, atMs: number, by = handsFor(command)): SessionEvent | null {
  const at = momentAt(atMs);
  const missing = missingFor(command.kind, session.context, { at, by, command });
  try {
    return eventOf(command, findingsFor(command, session.context, missing, BUILT_IN), at, by);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Whose hands a command is for, when everybody keeps to their part. */
export function handsFor({ kind }: Command): Person {
  if (kind === 'second-check') return SECOND_NURSE;
  return ['read-back', 'beam-on', 'beam-off', 'end-light'].includes(kind) ? OPERATOR : NURSE;
}

const REASON = { override: { reason: 'the physician decides so' } };
const STEPS = ['prepare', 'prime-line', 'start-pump', 'begin-flush', 'end-flush', 'beam-on', 'end-light', 'discharge'];

/** Steps that take a reason for going on, each with and without one. */
const bothWays = (command: Command): Command[] =>
  STEPS.includes(command.kind) ? [command, { ...command, ...REASON } as Command] : [command];

/**
 * What leads somewhere: the tasks of the present state, every step, what interrupts, what goes wrong. The wrong lens
 * is tried with one eye only, to keep the walk short.
 */
export function triesIn(
  record: SessionRecord,
  nowMs: number,
  lesions: readonly (typeof RIGHT | typeof LEFT)[] = [RIGHT],
): Command[] {
  const eye = eyeInTurn(record, nowMs) ?? 'right';
  const other: Eye = eye === 'right' ? 'left' : 'right';
  const seen = settingsFor(eye === 'right' ? RIGHT : LEFT);
  const tasks = tasksOf(record, nowMs).flatMap(({ item, eye: of }): Command[] =>
    item === null ? [] : [{ kind: 'check', item, ...(of === null ? {} : { eye: of }) }],
  );
  const ordered = [...lesions];
  const steps: Command[] = [
    sampleOf('identify'),
    orderOf(ordered),
    { kind: 'screen', answers: ALL_NO },
    sampleOf('measure'),
    { kind: 'second-check', heightCm: 168, weightKg: 71.5, regimenId: 'label', lesions: ordered },
    { kind: 'second-check', heightCm: 168, weightKg: 81.5, regimenId: 'label', lesions: ordered },
    sampleOf('drug'),
    sampleOf('line'),
    ...STEPS.map((kind) => sampleOf(kind as CommandKind)).map(
      (one) => ('eye' in one ? { ...one, eye } : one) as Command,
    ),
    { kind: 'beam-on', eye: other, ...REASON },
    sampleOf('hold'),
    sampleOf('resume'),
    sampleOf('set-back'),
    seen,
    ...(lesions.length === 1 ? [{ ...seen, lensFactor: 1.96 }] : []),
    { kind: 'beam-off', endedByLaser: true },
    { kind: 'beam-off', endedByLaser: false },
    sampleOf('reactions'),
    sampleOf('review'),
    sampleOf('stop-early'),
    sampleOf('addendum'),
  ];
  return [...tasks, ...steps.flatMap(bothWays)];
}

const CHECKS_TO_ASK: readonly [CheckId, Eye?][] = [
  ['consent'],
  ['consent', 'right'],
  ['time-out'],
  ['d5w-only'],
  ['filter'],
  ['drops', 'right'],
  ['drops', 'left'],
  ['drops'],
  ['eye-time-out', 'left'],
  ['bracelet'],
];

/** Commands of every kind, in every variant that something might take differently. */
export const EVERY_COMMAND: readonly Command[] = COMMAND_KINDS.flatMap((kind): Command[] => {
  if (kind === 'check' || kind === 'uncheck') {
    return CHECKS_TO_ASK.map(([item, eye]) => ({ ...sampleOf(kind), item, ...(eye && { eye }) }) as Command);
  }
  const sample = sampleOf(kind);
  const eyes: Command[] = 'eye' in sample ? [sample, { ...sample, eye: 'left' } as Command] : [sample];
  if (kind === 'end-flush') eyes.push({ kind: 'end-flush', flushMl: 3 });
  return eyes.flatMap(bothWays);
});
