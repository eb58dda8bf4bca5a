import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { replay } from '../../core/ledger/replay.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { eventOf, type SessionEvent } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type SessionRecord, shiftInstants } from '../../core/procedure/record.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { timerReport } from '../../core/procedure/timer-report.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  after,
  beamOn,
  discharged,
  entriesOf,
  flushing,
  give,
  held,
  infusing,
  momentAt,
  played,
  prepared,
  stepsBefore,
  stopped,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const UNDER_WAY: [string, Session, number][] = [
  ['prepared', prepared(TWO_EYES), T0_AT_MS - 200_000],
  ['infusing', infusing(TWO_EYES), T0_AT_MS + 100_000],
  [
    'infusing, set back',
    give(infusing(TWO_EYES), { kind: 'set-back', agoS: 9 }, T0_AT_MS + 20_000),
    T0_AT_MS + 100_000,
  ],
  ['held', held(TWO_EYES), T0_AT_MS + 200_000],
  ['resumed', give(held(TWO_EYES), { kind: 'resume' }, T0_AT_MS + 150_000), T0_AT_MS + 200_000],
  ['flushing', flushing(TWO_EYES), T0_AT_MS + 610_000],
  ['waiting', waiting(TWO_EYES), T0_AT_MS + 800_000],
  ['beam on', beamOn(TWO_EYES), T0_AT_MS + 910_000],
  ['second eye', after('beam-on:left', TWO_EYES), T0_AT_MS + 1_050_000],
  ['after-care', after('end-light', TWO_EYES), T0_AT_MS + 1_200_000],
  ['stopped', stopped(infusing(), T0_AT_MS + 60_000), T0_AT_MS + 70_000],
];

/** The machine was started anew: its continuous clock reads `shiftMs` more than it would have, on another boot. */
function rebased(session: Session, shiftMs: number, atMs: number): Session {
  const rebase = { kind: 'rebase', fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs } as const;
  const after = sessionAfter(session, rebaseEvent(rebase, atMs));
  if (after === null) throw new Error('a rebase is not taken');
  return after;
}

const rebaseEvent = (rebase: Parameters<typeof eventOf>[0], atMs: number): SessionEvent =>
  eventOf(rebase, {}, { ...momentAt(atMs), boot: 'boot-two' }, STATION_AUTHOR);

const shifts = fc.integer({ min: -3_600_000, max: 3_600_000 });

/** Every leaf of a value by its path. */
function leavesOf(value: unknown, path = ''): [string, unknown][] {
  if (value === null || typeof value !== 'object') return [[path, value]];
  return Object.entries(value).flatMap(([key, inner]) => leavesOf(inner, `${path}/${key}`));
}

describe('moving a record onto another clock', () => {
  test.each([...UNDER_WAY, ['discharged', discharged(TWO_EYES), 0] as const])(
    '%s: every instant moves by the shift, and nothing else changes',
    (_state, session) => {
      fc.assert(
        fc.property(shifts, (shiftMs) => {
          const before = leavesOf(session.context);
          const moved = new Map(leavesOf(shiftInstants(session.context, shiftMs)));
          expect(moved.size).toBe(before.length);
          for (const [path, value] of before) {
            const instant = /(\/a|A)tMs$/.test(path) && typeof value === 'number';
            expect([path, moved.get(path)]).toEqual([path, instant ? value + shiftMs : value]);
          }
        }),
        { numRuns: 10 },
      );
    },
  );

  test('every continuous instant of a whole treatment is among what moves', () => {
    const still = leavesOf(shiftInstants(discharged(TWO_EYES).context, 5_000_000_000));
    const left = still.filter(([, value]) => typeof value === 'number' && value > 3_000_000 && value < 6_000_000);
    expect(left).toEqual([]);
  });
});

describe('after the machine was started anew', () => {
  test.each(UNDER_WAY)(
    '%s: as much time is left as before, and the same numbers are shown',
    (_state, session, atMs) => {
      fc.assert(
        fc.property(shifts, (shiftMs) => {
          const after = rebased(session, shiftMs, atMs + shiftMs);
          const left = (record: SessionRecord, nowMs: number) =>
            duesOf(record).map((due) => ({ ...due, dueAtMs: due.dueAtMs - nowMs }));
          expect(left(after.context, atMs + shiftMs)).toEqual(left(session.context, atMs));
          expect(timerReport(after.context)).toEqual(timerReport(session.context));

          const now = momentAt(atMs);
          const then = { ...now, continuousMs: atMs + shiftMs, boot: 'boot-two' };
          const shown = { ...viewOf(session.context, 1, now), rebased: true };
          expect(viewOf(after.context, 1, then)).toEqual(shiftInstants(shown, shiftMs));
        }),
        { numRuns: 10 },
      );
    },
  );

  test('the record says so, and to which boot it belongs', () => {
    expect(infusing().context).toMatchObject({ boot: 'boot-one', rebased: false });
    expect(rebased(infusing(), 5000, T0_AT_MS).context).toMatchObject({ boot: 'boot-two', rebased: true });
  });

  test('wall times stay what they were', () => {
    const { course, reached } = rebased(infusing(), 77_000, T0_AT_MS).context;
    expect(course?.t0WallMs).toBe(momentAt(T0_AT_MS).wallMs);
    expect(reached.at(-1)?.wallMs).toBe(momentAt(T0_AT_MS).wallMs);
  });

  test('a rebase is an entry like any other, and replay gives it back', () => {
    const { session, events } = played(stepsBefore('begin-flush'));
    const rebase = { kind: 'rebase', fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs: -1234.5 } as const;
    const entries = entriesOf([...events, rebaseEvent(rebase, T0_AT_MS)]);
    expect(replay(entries).context).toEqual(rebased(session, -1234.5, T0_AT_MS).context);
  });

  test('a session that is over is left as it is', () => {
    const rebase = { kind: 'rebase', fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs: 5 } as const;
    expect(sessionAfter(discharged(), rebaseEvent(rebase, T0_AT_MS))).toBeNull();
  });
});
