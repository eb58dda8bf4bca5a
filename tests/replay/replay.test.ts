import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chainBreak, entrySchema } from '../../core/ledger/entry.ts';
import { ReplayError, replay } from '../../core/ledger/replay.ts';
import type { Command } from '../../core/procedure/commands.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import type { SessionEvent } from '../../core/procedure/events.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { ruleOn, type Session, sessionAfter } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { handsFor, triesIn } from '../procedure/walk.ts';
import {
  entriesOf,
  LEFT,
  momentAt,
  OPENED_AT_MS,
  opened,
  played,
  RIGHT,
  ringing,
  sampleOf,
  sha256,
  TWO_EYES,
} from '../session-steps.ts';

/** A person's next try: which of all commands, how long after the one before, and whether it is what comes next. */
interface Try {
  readonly pick: number;
  readonly pauseMs: number;
  readonly astray: boolean;
}

const tries = fc.array(
  fc.record({
    pick: fc.nat(),
    pauseMs: fc.integer({ min: 0, max: 240_000 }),
    astray: fc.integer({ min: 0, max: 9 }).map((one) => one < 3),
  }),
  { minLength: 20, maxLength: 90, size: 'max' },
);

/** Lives a session through: what is taken, with all that comes due on the way; what is refused leaves no trace. */
function live(list: readonly Try[]): { session: Session; events: SessionEvent[]; refused: number } {
  const events: SessionEvent[] = [];
  let session = opened();
  let atMs = OPENED_AT_MS;
  let refused = 0;
  for (const { pick, pauseMs, astray } of list) {
    atMs += pauseMs;
    const rung = ringing(session, atMs);
    events.push(...rung.events);
    session = rung.session;
    const all = [...triesIn(session.context, atMs, [RIGHT, LEFT]), sampleOf('note'), sampleOf('uncheck')];
    const command = astray ? all[pick % all.length] : comesNext(session, atMs);
    if (command === undefined) continue;
    const before = session;
    const ruling = ruleOn(session, command, momentAt(atMs), handsFor(command));
    if (ruling.taken) {
      events.push(ruling.event);
      session = ruling.session;
    } else {
      refused += 1;
      expect(session).toBe(before);
      expect(ruling.missing.length).toBeGreaterThan(0);
    }
  }
  return { session, events, refused };
}

/** The first task that is not done, or the way on. */
function comesNext({ context: record }: Session, atMs: number): Command | undefined {
  const view = viewOf(record, 1, momentAt(atMs));
  const task = view.tasks.find((one) => one.done === null || one.trouble !== null);
  const name = task?.command ?? view.wayOn?.command;
  const eye = task === undefined ? view.wayOn?.eye : task.eye;
  return triesIn(record, atMs, [RIGHT, LEFT]).find(
    (one) =>
      one.kind === name &&
      (task?.item == null || ('item' in one && one.item === task.item)) &&
      (eye == null || !('eye' in one) || one.eye === eye),
  );
}

test('however a session went, folding its entries gives the same session', () => {
  const reached = new Map<string, number>();
  let refusals = 0;
  fc.assert(
    fc.property(tries, (list) => {
      const { session, events, refused } = live(list);
      refusals += refused;
      for (const { state } of session.context.reached) reached.set(state, (reached.get(state) ?? 0) + 1);
      const entries = entriesOf(events);
      expect(chainBreak(entries, sha256)).toBeNull();
      const folded = replay(entries);
      expect(folded.context).toEqual(session.context);
      expect(folded.value).toEqual(session.value);

      const read = (JSON.parse(JSON.stringify(entries)) as unknown[]).map((one) => entrySchema.parse(one));
      expect(chainBreak(read, sha256)).toBeNull();
      const again = replay(read);
      expect(again.context).toEqual(session.context);
      expect(again.value).toEqual(session.value);
      expect(duesOf(again.context)).toEqual(duesOf(session.context));
    }),
    { numRuns: 100 },
  );
  expect([...reached.keys()].sort()).toEqual([
    'afterCare',
    'discharged',
    'flushing',
    'infusing',
    'lightDelivery',
    'linePrimed',
    'planning',
    'prepared',
    'stoppedEarly',
    'waitingForLight',
  ]);
  expect(refusals).toBeGreaterThan(100);
});

describe('a session taken up after a crash', () => {
  const { events } = played(TWO_EYES);
  const entries = entriesOf(events);

  test('at any of its entries goes on to the same end', () => {
    const whole = replay(entries);
    for (let cut = 1; cut < entries.length; cut += 1) {
      const session = events
        .slice(cut - 1)
        .reduce<Session | null>((now, event) => now && sessionAfter(now, event), replay(entries.slice(0, cut)));
      expect(session?.context).toEqual(whole.context);
    }
  });

  test('waits for the same instants and shows the same numbers', () => {
    for (let cut = 1; cut <= entries.length; cut += 1) {
      const live = played(TWO_EYES, opened()).events.slice(0, cut - 1);
      const session = live.reduce<Session>((now, event) => sessionAfter(now, event) ?? now, opened());
      const folded = replay(entries.slice(0, cut));
      const at = momentAt((entries[cut - 1]?.continuousMs ?? 0) + 500);
      expect(viewOf(folded.context, cut, at)).toEqual(viewOf(session.context, cut, at));
    }
  });
});

test('what was found when an entry was written is kept, whatever would be found today', () => {
  const { events } = played(TWO_EYES);
  const entries = entriesOf(events).map((entry) => {
    const { found } = entry.payload as { found?: { plan?: object } };
    return found?.plan === undefined
      ? entry
      : {
          ...entry,
          payload: { ...entry.payload, found: { ...found, plan: { ...found.plan, cautions: ['as it was'] } } },
        };
  });
  expect(replay(entries).context.plan?.cautions).toEqual(['as it was']);
});

test('a practice session stays one', () => {
  const [opening, ...rest] = entriesOf(played(TWO_EYES).events);
  if (opening === undefined) throw new Error('no entries');
  expect(replay([opening, ...rest]).context.practice).toBe(false);
  expect(replay([{ ...opening, payload: { practice: true } }, ...rest]).context.practice).toBe(true);
});

test('a session without entries, or one that is never opened, is refused', () => {
  expect(() => replay([])).toThrow(ReplayError);
  const [opening, second] = entriesOf(played(TWO_EYES).events);
  if (opening === undefined || second === undefined) throw new Error('no entries');
  expect(() => replay([second])).toThrow('entry 2: a session begins with the entry that opens it');
  expect(() => replay([{ ...opening, sessionId: null }])).toThrow('entry 1: a session begins');
  expect(stateOf(replay([opening]).context)).toBe('planning');
});
