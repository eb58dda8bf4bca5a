import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { commandSchema } from '../../core/procedure/commands.ts';
import { infusionDueAtMs, infusionRanMs } from '../../core/procedure/infusion.ts';
import type { Course } from '../../core/procedure/record.ts';
import type { Session } from '../../core/procedure/session.ts';
import {
  courseOf,
  flushing,
  give,
  infusing,
  LEFT,
  missing,
  momentAt,
  ONE_EYE,
  RIGHT,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';

const MINUTE_MS = 60_000;
const INFUSION_MS = 10 * MINUTE_MS;
const LIGHT_MS = 15 * MINUTE_MS;
const SECOND_EYE_MS = 20 * MINUTE_MS;

function courseIn({ context }: Session): Course {
  if (context.course === null) throw new Error('no course yet');
  return context.course;
}

const dueOf = (session: Session): number | null => infusionDueAtMs(courseIn(session).infusion);
const hold = (session: Session, atMs: number) => give(session, { kind: 'hold', reason: 'pain' }, atMs);
const resume = (session: Session, atMs: number) => give(session, { kind: 'resume' }, atMs);

/** Holds as lengths: how long the pump ran before each, and how long it then stood. */
const stretches = fc.array(
  fc.record({ ranMs: fc.integer({ min: 1, max: 90_000 }), heldMs: fc.integer({ min: 1, max: 900_000 }) }),
  { minLength: 1, maxLength: 6 },
);

function withHolds(session: Session, list: readonly { ranMs: number; heldMs: number }[]): Session {
  let atMs = T0_AT_MS + MINUTE_MS;
  return list.reduce((now, { ranMs, heldMs }) => {
    const heldAtMs = atMs + ranMs;
    atMs = heldAtMs + heldMs;
    return resume(hold(now, heldAtMs), atMs);
  }, session);
}

test('both timers count from the one T0, the press of pump on', () => {
  const { t0AtMs, t0PressedAtMs, t0WallMs, t0OffsetMin, lightDueAtMs, infusion } = courseIn(infusing());
  expect([t0AtMs, t0PressedAtMs]).toEqual([T0_AT_MS, T0_AT_MS]);
  expect([t0WallMs, t0OffsetMin]).toEqual([momentAt(T0_AT_MS).wallMs, 60]);
  expect(infusionDueAtMs(infusion)).toBe(T0_AT_MS + INFUSION_MS);
  expect(lightDueAtMs).toBe(T0_AT_MS + LIGHT_MS);
});

test.each([
  ['label', 10, 15, 20],
  ['half-dose-15', 10, 15, 20],
  ['half-dose-10', 8, 10, null],
  ['half-fluence', 10, 15, 20],
  ['half-time', 10, 15, 20],
] as const)(
  '%s: infusion %d min, light at %d min, second eye by %s min',
  (regimenId, infusionMin, lightMin, limitMin) => {
    const session = infusing(courseOf([RIGHT, LEFT], regimenId));
    expect(dueOf(session)).toBe(T0_AT_MS + infusionMin * MINUTE_MS);
    expect(courseIn(session).lightDueAtMs).toBe(T0_AT_MS + lightMin * MINUTE_MS);
    expect(courseIn(session).secondEyeDueAtMs).toBe(limitMin === null ? null : T0_AT_MS + limitMin * MINUTE_MS);
  },
);

test('a limit for the second eye exists only where a second eye is ordered', () => {
  expect(courseIn(infusing(ONE_EYE)).secondEyeDueAtMs).toBeNull();
  expect(courseIn(infusing(TWO_EYES)).secondEyeDueAtMs).toBe(T0_AT_MS + SECOND_EYE_MS);
});

describe('a hold', () => {
  test('moves the end of the infusion by exactly its length, however many there are, and the light never', () => {
    fc.assert(
      fc.property(stretches, (list) => {
        const session = withHolds(infusing(TWO_EYES), list);
        const heldMs = list.reduce((sum, one) => sum + one.heldMs, 0);
        expect(dueOf(session)).toBe(T0_AT_MS + INFUSION_MS + heldMs);
        expect(courseIn(session)).toMatchObject({
          t0AtMs: T0_AT_MS,
          lightDueAtMs: T0_AT_MS + LIGHT_MS,
          secondEyeDueAtMs: T0_AT_MS + SECOND_EYE_MS,
        });
        expect(courseIn(session).infusion.holds).toHaveLength(list.length);
      }),
      { numRuns: 60 },
    );
  });

  test('stops the infusion timer: no end is due, and what is left stands still', () => {
    const held = hold(infusing(), T0_AT_MS + 200_000);
    expect(dueOf(held)).toBeNull();
    const { infusion, lightDueAtMs } = courseIn(held);
    expect([0, 1000, 1_000_000].map((laterMs) => infusionRanMs(infusion, T0_AT_MS + 200_000 + laterMs))).toEqual([
      200_000, 200_000, 200_000,
    ]);
    expect(lightDueAtMs).toBe(T0_AT_MS + LIGHT_MS);
  });

  test('keeps its reason and both its instants', () => {
    const held = give(infusing(), { kind: 'hold', reason: 'pump' }, T0_AT_MS + 5000);
    expect(courseIn(held).infusion.holds).toEqual([{ heldAtMs: T0_AT_MS + 5000, reason: 'pump', resumedAtMs: null }]);
    expect(courseIn(resume(held, T0_AT_MS + 9000)).infusion.holds).toEqual([
      { heldAtMs: T0_AT_MS + 5000, reason: 'pump', resumedAtMs: T0_AT_MS + 9000 },
    ]);
  });

  test('is not made twice, nor ended twice', () => {
    const held = hold(infusing(), T0_AT_MS + 5000);
    expect(missing(held, { kind: 'hold', reason: 'pain' }, T0_AT_MS + 6000)).toEqual(['the infusion is held already']);
    expect(missing(infusing(), { kind: 'resume' }, T0_AT_MS + 6000)).toEqual(['the infusion is not held']);
  });
});

describe('a start set back', () => {
  const agoS = fc.integer({ min: 1, max: 120 });

  test('moves T0, both ends and the limit for the second eye by that, and keeps the press', () => {
    fc.assert(
      fc.property(agoS, fc.option(stretches, { nil: [] }), fc.boolean(), (seconds, list, heldNow) => {
        const before = withHolds(infusing(TWO_EYES), list);
        const atMs = T0_AT_MS + 6 * 3_600_000;
        const now = heldNow ? hold(before, atMs) : before;
        const { infusion, ...was } = courseIn(now);
        const back = give(now, { kind: 'set-back', agoS: seconds }, atMs + 1);
        expect(courseIn(back)).toMatchObject({
          t0AtMs: was.t0AtMs - seconds * 1000,
          t0PressedAtMs: T0_AT_MS,
          t0WallMs: was.t0WallMs - seconds * 1000,
          lightDueAtMs: was.lightDueAtMs - seconds * 1000,
          secondEyeDueAtMs: T0_AT_MS + SECOND_EYE_MS - seconds * 1000,
        });
        expect(infusionRanMs(courseIn(back).infusion, atMs)).toBe(infusionRanMs(infusion, atMs) + seconds * 1000);
        const resumed = heldNow ? resume(back, atMs + 5000) : back;
        const heldMs = list.reduce((sum, one) => sum + one.heldMs, 0) + (heldNow ? 5000 : 0);
        expect(dueOf(resumed)).toBe(T0_AT_MS + INFUSION_MS + heldMs - seconds * 1000);
      }),
      { numRuns: 60 },
    );
  });

  test('and a hold come to the same in either order', () => {
    const back = (session: Session, atMs: number) => give(session, { kind: 'set-back', agoS: 20 }, atMs);
    const first = resume(hold(back(infusing(), T0_AT_MS + 30_000), T0_AT_MS + 60_000), T0_AT_MS + 90_000);
    const last = back(resume(hold(infusing(), T0_AT_MS + 60_000), T0_AT_MS + 90_000), T0_AT_MS + 100_000);
    expect(dueOf(last)).toBe(dueOf(first));
    expect(courseIn(last).t0AtMs).toBe(courseIn(first).t0AtMs);
  });

  test('is possible once', () => {
    const back = give(infusing(), { kind: 'set-back', agoS: 8 }, T0_AT_MS + 10_000);
    const again = missing(back, { kind: 'set-back', agoS: 8 }, T0_AT_MS + 20_000);
    expect(again).toEqual(['the start was set back once already']);
  });

  test('is possible only while infusing', () => {
    const [says] = missing(flushing(), { kind: 'set-back', agoS: 8 }, T0_AT_MS + INFUSION_MS + 1000);
    expect(says).toBe('possible only in: infusing; this session is in: flushing');
  });

  test.each([
    [0, false],
    [-5, false],
    [0.5, true],
    [300, true],
    [300.5, false],
  ])('by %d s can be entered: %s', (seconds, can) => {
    expect(commandSchema.safeParse({ kind: 'set-back', agoS: seconds }).success).toBe(can);
  });

  test('is limited by the site: 120 s unless it says otherwise', () => {
    const says = (agoS: number) => missing(infusing(), { kind: 'set-back', agoS }, T0_AT_MS + 200_000);
    expect(says(120)).toEqual([]);
    expect(says(120.5)).toEqual(['at most 120 s can be set back at this site: enter more as a deviation']);
  });
});

describe('the flush', () => {
  test('takes the pump off and stops the infusion timer where it stands', () => {
    const session = flushing();
    const { infusion, flush, lightDueAtMs } = courseIn(session);
    const beganAtMs = T0_AT_MS + INFUSION_MS;
    expect(infusion).toMatchObject({ pumpOffAtMs: beganAtMs, runningSinceAtMs: null, ranBeforeMs: INFUSION_MS });
    expect(flush).toMatchObject({ beganAtMs, endedAtMs: null, flushMl: null });
    expect(lightDueAtMs).toBe(T0_AT_MS + LIGHT_MS);
  });

  test('begun early goes on with a reason, leaves the light where it was and says what had run', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: INFUSION_MS - 1 }), (ranMs) => {
        const early = { kind: 'begin-flush', override: { reason: 'the syringe is empty' } } as const;
        const session = give(infusing(), early, T0_AT_MS + ranMs);
        expect(courseIn(session).infusion.ranBeforeMs).toBe(ranMs);
        expect(dueOf(session)).toBeNull();
        expect(courseIn(session).lightDueAtMs).toBe(T0_AT_MS + LIGHT_MS);
        expect(session.context.deviations).toMatchObject([
          { words: 'the pump has not reached its end', reason: 'the syringe is empty' },
        ]);
      }),
      { numRuns: 40 },
    );
  });

  test('once done keeps its end and its volume', () => {
    const done = give(flushing(), { kind: 'end-flush', flushMl: 6 }, T0_AT_MS + INFUSION_MS + 58_000);
    expect(courseIn(done).flush).toMatchObject({
      beganAtMs: T0_AT_MS + INFUSION_MS,
      endedAtMs: T0_AT_MS + INFUSION_MS + 58_000,
      flushMl: 6,
    });
  });
});

test('drug that was reconstituted minutes ago counts its 4 h from then', () => {
  const { reconstitutedAtMs, reconstitutedWallMs } = infusing().context;
  expect(reconstitutedAtMs).toBe(T0_AT_MS - 600_000);
  expect(reconstitutedWallMs).toBe(momentAt(T0_AT_MS - 600_000).wallMs);
});
