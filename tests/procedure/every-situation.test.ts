import { describe, expect, test } from 'vitest';
import { COMMAND_KINDS, type Command } from '../../core/procedure/commands.ts';
import { CONDITIONS } from '../../core/procedure/conditions.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { beamIsOn, exposureDueAtMs } from '../../core/procedure/exposure.ts';
import { missingFor, permits } from '../../core/procedure/openings.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import type { StateName } from '../../core/procedure/states.ts';
import { tasksOf } from '../../core/procedure/tasks.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { sessionViewSchema } from '../../core/protocol/view.ts';
import { LEFT, momentAt, opened, RIGHT, sampleOf } from '../session-steps.ts';
import { asEvent, EVERY_COMMAND, handsFor, latestMs, situationOf, type Way, walk } from './walk.ts';

const HOUR_MS = 3_600_000;

/** Every state of the procedure with its substates, as they are drawn in the trade. */
const PLACES = [
  'planning',
  'prepared',
  'linePrimed',
  { infusing: 'running' },
  { infusing: 'held' },
  'flushing',
  'waitingForLight',
  { lightDelivery: 'beamOn' },
  { lightDelivery: 'beamOff' },
  'afterCare',
  'stoppedEarly',
  'discharged',
].map((place) => JSON.stringify(place));

describe.each([
  ['one eye', walk([RIGHT])],
  ['two eyes', walk([RIGHT, LEFT])],
])('in every situation that a session with %s can come to', (_eyes, ways) => {
  const sessions = [...new Set(ways.map(({ from }) => from))];

  test('the walk reaches every state and substate, and no other', () => {
    const reached = new Set(sessions.map((session) => JSON.stringify(session.value)));
    expect([...reached].sort()).toEqual([...PLACES].sort());
  });

  test.each([
    ['prepared', 'planning'],
    ['linePrimed', 'prepared'],
    ['infusing', 'linePrimed'],
    ['flushing', 'infusing'],
    ['waitingForLight', 'flushing'],
    ['lightDelivery', 'infusing'],
    ['lightDelivery', 'flushing'],
    ['lightDelivery', 'waitingForLight'],
    ['afterCare', 'lightDelivery'],
  ] as const)('there is no way to %s around %s', (place, needed) => {
    expect(reachedWithout(ways, 'discharged')).toContain(place);
    expect(reachedWithout(ways, needed)).not.toContain(place);
  });

  test('there is no way back', () => {
    const rank: StateName[] = [
      'planning',
      'prepared',
      'linePrimed',
      'infusing',
      'flushing',
      'waitingForLight',
      'lightDelivery',
      'afterCare',
      'stoppedEarly',
      'discharged',
    ];
    const placeOf = (session: Session): number => rank.indexOf(stateOf(session.context));
    expect(ways.filter(({ from, to }) => placeOf(to) < placeOf(from))).toEqual([]);
  });

  test('drug is made up only where every task of planning is done and none is in trouble', () => {
    const made = ways.filter(
      ({ from, to }) => from.matches('planning') && stateOf(to.context) !== 'planning' && !to.matches('stoppedEarly'),
    );
    expect(made.length).toBeGreaterThan(0);
    for (const { from } of made) {
      const open = tasksOf(from.context, 0).filter(({ done, trouble }) => done === null || trouble !== null);
      expect(open).toEqual([]);
    }
  });

  test('the machine takes a command exactly where nothing is missing, or where a reason gets round what is', () => {
    for (const session of sessions) {
      for (const atMs of [latestMs(session.context) + 1000, latestMs(session.context) + 5 * HOUR_MS]) {
        for (const command of EVERY_COMMAND) {
          const event = asEvent(session, command, atMs);
          if (event === null) continue;
          const ask = { at: event.at, by: event.by, command };
          const missing = missingFor(command.kind, session.context, ask);
          const overridden = 'override' in command;
          if (session.can(event) !== permits(missing, overridden)) {
            expect.fail(`${situationOf(session)}: ${JSON.stringify(command)}, missing ${JSON.stringify(missing)}`);
          }
        }
      }
    }
  });

  test('what is missing is a sentence in words, never the name of a thing in the program', () => {
    const sentences = new Set<string>();
    for (const session of sessions) {
      const atMs = latestMs(session.context) + 1000;
      for (const command of EVERY_COMMAND) {
        const ask = { at: momentAt(atMs), by: handsFor(command), command };
        for (const { text } of missingFor(command.kind, session.context, ask)) sentences.add(text);
      }
    }
    expect(sentences.size).toBeGreaterThan(40);
    const names = [...COMMAND_KINDS, ...Object.keys(CONDITIONS)].filter((name) => /[-A-Z]/.test(name));
    const ids = [...names, 'd5w', 'sound-heard', 'lens-on', 'eye-time-out', 'sheet-given'];
    for (const text of sentences) {
      expect(text.replace(/[^a-z]/gi, '').length, text).toBeGreaterThanOrEqual(10);
      expect(text, text).not.toMatch(/[a-z]{2,}[A-Z]|undefined|null|NaN|\[object/);
      expect(
        ids.filter((id) => text.includes(id)),
        text,
      ).toEqual([]);
    }
  });

  test('every instant a session waits for is taken when it comes, and then waited for no more', () => {
    for (const session of sessions) {
      for (const due of duesOf(session.context)) {
        const rung = eventOf(due, {}, momentAt(due.dueAtMs), STATION_AUTHOR);
        const after = sessionAfter(session, rung);
        if (after === null) expect.fail(`${due.kind} is not taken in ${situationOf(session)}`);
        expect(duesOf(after.context)).toEqual(duesOf(session.context).filter((one) => one.kind !== due.kind));
      }
    }
  });

  test('what the screens are sent can be read by them, and is plain JSON', () => {
    for (const session of sessions) {
      const view = viewOf(session.context, 7, momentAt(latestMs(session.context) + 1000));
      expect(sessionViewSchema.parse(view)).toEqual(view);
      expect(JSON.parse(JSON.stringify(view))).toEqual(view);
    }
  });

  test('the way on is open exactly where its command is taken, but for the beam, which the laser times', () => {
    for (const session of sessions) {
      const nowMs = latestMs(session.context) + 1000;
      for (const atMs of [nowMs, nowMs + HOUR_MS]) {
        const { wayOn } = viewOf(session.context, 7, momentAt(atMs));
        if (wayOn === null) {
          expect(session.value).toBe('discharged');
          continue;
        }
        const command = { ...sampleOf(wayOn.command as Command['kind']), ...(wayOn.eye && { eye: wayOn.eye }) };
        if (wayOn.command === 'beam-off') {
          const dueAtMs = session.context.course?.exposures.flatMap((one) => exposureDueAtMs(one) ?? [])[0] ?? 0;
          expect([wayOn.open, wayOn.withReason]).toEqual([atMs >= dueAtMs, false]);
          expect(taken(session, { kind: 'beam-off', endedByLaser: false }, atMs)).toBe(true);
          continue;
        }
        const reasoned = { ...command, override: { reason: 'the physician decides so' } } as Command;
        expect([wayOn.open, wayOn.withReason], situationOf(session)).toEqual([
          taken(session, command as Command, atMs),
          !taken(session, command as Command, atMs) && taken(session, reasoned, atMs),
        ]);
        expect(wayOn.missing.length > 0).toBe(!wayOn.open);
      }
    }
  });

  test('the board counts to the light window from T0 to the light, the light while it shines, else nothing', () => {
    for (const session of sessions) {
      const record = session.context;
      const { main } = viewOf(record, 7, momentAt(latestMs(record) + 1000)).board;
      const state = stateOf(record);
      const shining = record.course?.exposures.find(beamIsOn);
      if (state === 'infusing' || state === 'flushing' || state === 'waitingForLight') {
        expect(main).toMatchObject({ kind: 'left', eye: null, dueAtMs: record.course?.lightDueAtMs });
      } else if (state === 'lightDelivery') {
        const dueAtMs = shining === undefined ? null : exposureDueAtMs(shining);
        if (shining !== undefined) expect(main).toMatchObject({ kind: 'light', eye: shining.eye, dueAtMs });
        else if (main?.kind === 'left') expect(main.dueAtMs).toBe(record.course?.secondEyeDueAtMs);
        else if (main !== null) expect(main).toMatchObject({ kind: 'light', dueAtMs: null });
      } else expect(main).toBeNull();
    }
  });

  test('no timer runs on the screens once nothing is waited for', () => {
    const over = sessions.filter((session) =>
      ['afterCare', 'stoppedEarly', 'discharged'].includes(stateOf(session.context)),
    );
    for (const session of over) {
      const { timers } = viewOf(session.context, 7, momentAt(latestMs(session.context) + 1000));
      expect(timers.filter((timer) => timer.phase === 'running')).toEqual([]);
      expect(duesOf(session.context)).toEqual([]);
    }
  });
});

function taken(session: Session, command: Command, atMs: number): boolean {
  const event = asEvent(session, command, atMs);
  return event !== null && session.can(event);
}

/** The states that can be reached when no path may go through `avoided`. */
function reachedWithout(ways: readonly Way[], avoided: StateName): Set<StateName> {
  const onward = new Map<string, Way[]>();
  for (const way of ways) onward.set(situationOf(way.from), [...(onward.get(situationOf(way.from)) ?? []), way]);
  const seen = new Set([situationOf(opened())]);
  const reached = new Set<StateName>();
  for (const situation of seen) {
    for (const { from, to } of onward.get(situation) ?? []) {
      if (stateOf(from.context) === avoided) continue;
      reached.add(stateOf(from.context));
      seen.add(situationOf(to));
    }
  }
  return reached;
}
