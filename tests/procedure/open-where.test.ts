import { expect, test } from 'vitest';
import { COMMAND_KINDS, type Command, type CommandKind } from '../../core/procedure/commands.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { STATE_WORDS, type StateName } from '../../core/procedure/states.ts';
import {
  after,
  atOf,
  beamOff,
  beamOn,
  discharged,
  give,
  held,
  inAfterCare,
  infusing,
  LEFT,
  missing,
  momentAt,
  planned,
  play,
  readyFor,
  SECOND_NURSE,
  sampleOf,
  settingsFor,
  stepsBefore,
  stopped,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';
import { handsFor } from './walk.ts';

/**
 * A place in the procedure and all that may be entered there. `open`: by itself. `reason`: only with a reason for
 * going on. Whatever stands in neither list is closed, reason or not.
 */
interface Place {
  readonly session: Session;
  readonly atMs: number;
  readonly open: readonly CommandKind[];
  readonly reason?: readonly CommandKind[];
  /** What a kind is tried with here, where the common sample does not belong. */
  readonly tried?: Partial<Record<CommandKind, Command>>;
}

const at = (name: string): number => atOf(name, TWO_EYES);
const minutes = (count: number): number => T0_AT_MS + count * 60_000;
const always: CommandKind[] = ['note', 'deviation'];
const sinceDrug: CommandKind[] = ['reactions', 'trouble', 'stop-early', ...always];
const light: CommandKind[] = ['beam-set-back', ...sinceDrug];
const check = (item: 'drops', eye: 'left'): Command => ({ kind: 'check', item, eye });
const uncheck = (item: 'drops', eye: 'right'): Command => ({ kind: 'uncheck', item, eye, reason: 'wiped away' });
const drops = { check: check('drops', 'left'), uncheck: uncheck('drops', 'right') };
const leftEye: Partial<Record<CommandKind, Command>> = {
  'beam-on': { kind: 'beam-on', eye: 'left' },
  'read-back': settingsFor(LEFT),
};

const PLACES: Record<string, Place> = {
  'planning, just opened': {
    session: readyFor('identify', [], TWO_EYES),
    atMs: at('identify'),
    open: ['identify', 'order', 'screen', 'measure', 'check', 'stop-early', ...always],
  },
  'planning, all done': {
    session: planned(TWO_EYES),
    atMs: at('prepare'),
    open: ['identify', 'order', 'screen', 'measure', 'second-check', 'prepare', 'uncheck', 'stop-early', ...always],
  },
  'prepared, just made up': {
    session: after('prepare', TWO_EYES),
    atMs: at('drug'),
    open: ['drug', 'check', 'stop-early', ...always],
    reason: ['prime-line'],
    tried: { check: { kind: 'check', item: 'time-out' } },
  },
  'prepared, all done': {
    session: readyFor('prime-line', [], TWO_EYES),
    atMs: at('prime-line'),
    open: ['drug', 'prime-line', 'uncheck', 'stop-early', ...always],
    tried: { uncheck: { kind: 'uncheck', item: 'inspected', reason: 'particles seen' } },
  },
  'line just primed': {
    session: after('prime-line', TWO_EYES),
    atMs: at('line'),
    open: ['line', 'check', 'stop-early', ...always],
    reason: ['start-pump'],
    tried: { check: { kind: 'check', item: 'filter' } },
  },
  'line primed, all done': {
    session: readyFor('start-pump', [], TWO_EYES),
    atMs: at('start-pump'),
    open: ['line', 'start-pump', 'uncheck', 'stop-early', ...always],
    tried: { uncheck: { kind: 'uncheck', item: 'patency', reason: 'it swells' } },
  },
  'infusing, the pump runs': {
    session: infusing(TWO_EYES),
    atMs: minutes(3),
    open: ['hold', 'set-back', ...sinceDrug],
    reason: ['begin-flush'],
  },
  'infusing, the pump is at its end': {
    session: infusing(TWO_EYES),
    atMs: minutes(10),
    open: ['hold', 'set-back', 'begin-flush', 'cue-heard', ...sinceDrug],
  },
  'infusing, held': {
    session: held(TWO_EYES),
    atMs: minutes(3),
    open: ['resume', 'set-back', ...sinceDrug],
    reason: ['begin-flush'],
  },
  'infusing, set back once': {
    session: give(infusing(TWO_EYES), { kind: 'set-back', agoS: 8 }, minutes(1)),
    atMs: minutes(3),
    open: ['hold', ...sinceDrug],
    reason: ['begin-flush'],
  },
  'infusing, trouble met': {
    session: give(infusing(TWO_EYES), sampleOf('trouble'), minutes(3)),
    atMs: minutes(4),
    open: ['resume', 'set-back', 'trouble-told', ...sinceDrug],
    reason: ['begin-flush'],
  },
  'infusing, after extravasation': {
    session: give(infusing(TWO_EYES), { kind: 'trouble', card: 'extravasation' }, minutes(3)),
    atMs: minutes(4),
    open: ['set-back', ...sinceDrug],
    reason: ['resume', 'begin-flush'],
  },
  'infusing, the computer slept': {
    session: slept(infusing(TWO_EYES), minutes(3)),
    atMs: minutes(10),
    open: ['hold', 'set-back', 'looked', 'cue-heard', ...sinceDrug],
    reason: ['begin-flush'],
  },
  'flushing, just begun': {
    session: after('begin-flush', TWO_EYES),
    atMs: minutes(10) + 1,
    open: [...sinceDrug],
    reason: ['end-flush'],
  },
  'flushing, done': {
    session: readyFor('end-flush', [], TWO_EYES),
    atMs: at('end-flush'),
    open: ['end-flush', ...sinceDrug],
  },
  'waiting for the light window, nothing done': {
    session: after('end-flush', TWO_EYES),
    atMs: minutes(12),
    open: ['read-back', 'check', ...sinceDrug],
    reason: ['beam-on'],
    tried: drops,
  },
  'waiting, all done, the window open': {
    session: readyFor('beam-on:right', [], TWO_EYES),
    atMs: minutes(15),
    open: ['read-back', 'beam-on', 'check', 'uncheck', ...sinceDrug],
    tried: drops,
  },
  'light, beam on': {
    session: beamOn(TWO_EYES),
    atMs: minutes(15) + 5000,
    open: ['read-back', 'beam-off', 'check', 'uncheck', ...light],
    tried: drops,
  },
  'light, beam off in the middle of an eye': {
    session: give(beamOn(TWO_EYES), { kind: 'beam-off', endedByLaser: false }, minutes(15) + 30_000),
    atMs: minutes(16),
    open: ['read-back', 'beam-on', 'check', 'uncheck', ...light],
    reason: ['end-light'],
    tried: drops,
  },
  'light, the first eye done, the second not made ready': {
    session: beamOff(TWO_EYES),
    atMs: minutes(16) + 30_000,
    open: ['read-back', 'check', 'uncheck', ...light],
    reason: ['beam-on', 'end-light'],
    tried: { ...drops, ...leftEye },
  },
  'light, the first eye done, the second ready': {
    session: readyFor('beam-on:left', [], TWO_EYES),
    atMs: at('beam-on:left'),
    open: ['read-back', 'beam-on', 'uncheck', ...light],
    reason: ['end-light'],
    tried: { ...drops, ...leftEye },
  },
  'light, both eyes done': {
    session: readyFor('end-light', [], TWO_EYES),
    atMs: at('end-light'),
    open: ['read-back', 'end-light', 'uncheck', ...light],
    reason: ['beam-on'],
    tried: { ...drops, ...leftEye },
  },
  'after-care, nothing done': {
    session: inAfterCare(TWO_EYES),
    atMs: at('bracelet'),
    open: ['review', 'check', ...sinceDrug],
    reason: ['discharge'],
    tried: { check: { kind: 'check', item: 'bracelet' } },
  },
  'after-care, all done': {
    session: readyFor('discharge', [], TWO_EYES),
    atMs: at('discharge'),
    open: ['review', 'discharge', 'uncheck', ...sinceDrug],
    tried: { uncheck: { kind: 'uncheck', item: 'sheet-given', reason: 'the wrong date' } },
  },
  'stopped early before the pump': {
    session: stopped(planned(TWO_EYES), at('prepare')),
    atMs: at('prepare'),
    open: ['reactions', 'review', 'discharge', 'check', ...always],
    tried: { check: { kind: 'check', item: 'bracelet' } },
  },
  'stopped early with drug given': {
    session: stopped(infusing(TWO_EYES), minutes(4)),
    atMs: minutes(5),
    open: ['reactions', 'review', 'check', ...always],
    reason: ['discharge'],
    tried: { check: { kind: 'check', item: 'bracelet' } },
  },
  'stopped early with drug given, after-care done': {
    session: play(stepsBefore('discharge').slice(-4), stopped(infusing(), minutes(4))),
    atMs: at('discharge'),
    open: ['reactions', 'review', 'discharge', 'uncheck', ...always],
    tried: { uncheck: { kind: 'uncheck', item: 'sheet-given', reason: 'the wrong date' } },
  },
  discharged: {
    session: discharged(TWO_EYES),
    atMs: at('discharge') + 60_000,
    open: ['addendum'],
  },
};

/** What belongs to a state and waits for something that has not happened in any place of it here. */
const WAITING: Partial<Record<StateName, readonly CommandKind[]>> = {
  flushing: ['trouble-told', 'looked', 'cue-heard'],
  waitingForLight: ['trouble-told', 'looked', 'cue-heard'],
  lightDelivery: ['trouble-told', 'looked', 'cue-heard'],
  afterCare: ['trouble-told'],
  stoppedEarly: ['trouble-told'],
};

function slept(session: Session, atMs: number): Session {
  const content = { kind: 'slept', sleptMs: 90_000, byWallMs: 90_000 } as const;
  const next = sessionAfter(session, eventOf(content, {}, momentAt(atMs), STATION_AUTHOR));
  if (next === null) throw new Error('a sleep can be entered wherever drug is under way');
  return next;
}

test.each(Object.entries(PLACES))('%s: this is open, this with a reason, and nothing else', (_name, place) => {
  const { open, reason = [] } = place;
  expect({
    open: COMMAND_KINDS.filter((kind) => isTaken(place, kind)),
    reason: COMMAND_KINDS.filter((kind) => !isTaken(place, kind) && isTaken(place, kind, 'as it must be')),
  }).toEqual({
    open: COMMAND_KINDS.filter((kind) => open.includes(kind)),
    reason: COMMAND_KINDS.filter((kind) => reason.includes(kind)),
  });
});

test.each(Object.entries(PLACES))(
  '%s: what does not belong there is closed by the state, and says so',
  (_name, place) => {
    const { session, atMs } = place;
    const state = stateOf(session.context);
    const there = Object.values(PLACES).filter((one) => stateOf(one.session.context) === state);
    const belongs = new Set([
      ...there.flatMap(({ open, reason = [] }) => [...open, ...reason]),
      ...(WAITING[state] ?? []),
    ]);
    const closedByState = COMMAND_KINDS.filter((kind) => {
      const [says = '', ...more] = missing(session, sampleOf(kind), atMs, handsFor(sampleOf(kind)));
      const words = `; this session is in: ${STATE_WORDS[state]}`;
      return more.length === 0 && says.startsWith('possible only in: ') && says.endsWith(words);
    });
    expect(closedByState).toEqual(COMMAND_KINDS.filter((kind) => !belongs.has(kind)));
  },
);

function isTaken({ session, atMs, tried = {} }: Place, kind: CommandKind, reason?: string): boolean {
  const command = tried[kind] ?? sampleOf(kind);
  const given = reason === undefined ? command : ({ ...command, override: { reason } } as Command);
  return missing(session, given, atMs, handsFor(command)).length === 0;
}

test('somebody else does the second computation: it is open to the second nurse alone', () => {
  const session = readyFor('second-check');
  const second = sampleOf('second-check');
  expect(missing(session, second, atOf('second-check'))).not.toEqual([]);
  expect(missing(session, second, atOf('second-check'), SECOND_NURSE)).toEqual([]);
});

test('every command is open somewhere', () => {
  const open = new Set(Object.values(PLACES).flatMap((place) => place.open));
  expect([...COMMAND_KINDS].sort()).toEqual([...open].sort());
});
