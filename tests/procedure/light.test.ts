import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  deliveredJPerCm2,
  deliveredMs,
  type Exposure,
  exposureDueAtMs,
  isWhole,
} from '../../core/procedure/exposure.ts';
import type { Session } from '../../core/procedure/session.ts';
import { give, OPERATOR, readyFor, T0_AT_MS, TWO_EYES } from '../session-steps.ts';

const ON_AT_MS = T0_AT_MS + 15 * 60_000;
const PLANNED_MS = 83_000;

const on = (session: Session, atMs: number, reason?: string) =>
  give(
    session,
    { kind: 'beam-on', eye: 'right', ...(reason === undefined ? {} : { override: { reason } }) },
    atMs,
    OPERATOR,
  );
const off = (session: Session, atMs: number, endedByLaser = false) =>
  give(session, { kind: 'beam-off', endedByLaser }, atMs, OPERATOR);
const lit = (): Session => on(readyFor('beam-on'), ON_AT_MS);

function right({ context }: Session): Exposure {
  const found = context.course?.exposures.find((one) => one.eye === 'right');
  if (found === undefined) throw new Error('no exposure of the right eye');
  return found;
}

/** Stretches of light with pauses after them, together shorter than what was ordered. */
const pairs = fc.array(
  fc.record({ onMs: fc.integer({ min: 1, max: 10_000 }), offMs: fc.integer({ min: 1, max: 60_000 }) }),
  { minLength: 1, maxLength: 7 },
);

test('the exposure is what the plan ordered, for each eye in its turn, and begins dark', () => {
  const exposures = readyFor('beam-on', [], TWO_EYES).context.course?.exposures;
  const ordered = { plannedMs: PLANNED_MS, irradianceMwPerCm2: 600, orderedJPerCm2: 50, beams: [] };
  expect(exposures).toEqual([
    { eye: 'right', ...ordered },
    { eye: 'left', ...ordered },
  ]);
});

describe('the beam on and off in pairs', () => {
  test('what is left is what was planned less what was given, and the end moves with it', () => {
    fc.assert(
      fc.property(pairs, (list) => {
        let atMs = ON_AT_MS;
        let session = readyFor('beam-on');
        for (const { onMs, offMs } of list) {
          session = off(on(session, atMs), atMs + onMs);
          atMs += onMs + offMs;
        }
        const givenMs = list.reduce((sum, { onMs }) => sum + onMs, 0);
        expect(deliveredMs(right(session), atMs)).toBe(givenMs);
        expect(exposureDueAtMs(right(session))).toBeNull();
        const again = on(session, atMs);
        expect(exposureDueAtMs(right(again))).toBe(atMs + PLANNED_MS - givenMs);
        expect(deliveredMs(right(again), atMs + 700)).toBe(givenMs + 700);
        expect(right(again).beams).toHaveLength(list.length + 1);
      }),
      { numRuns: 40 },
    );
  });

  test('fluence is irradiance times the seconds given', () => {
    expect(deliveredJPerCm2(right(lit()), ON_AT_MS + 41_500)).toBeCloseTo(24.9, 9);
    expect(deliveredJPerCm2(right(lit()), ON_AT_MS + PLANNED_MS)).toBeCloseTo(49.8, 9);
  });

  test('an eye has its whole light from 99 % of the seconds on', () => {
    expect(isWhole(right(lit()), ON_AT_MS + 82_169)).toBe(false);
    expect(isWhole(right(lit()), ON_AT_MS + 82_170)).toBe(true);
  });

  test('the light of one eye is not the light of the other', () => {
    const session = off(on(readyFor('beam-on', [], TWO_EYES), ON_AT_MS), ON_AT_MS + 5000);
    expect(session.context.course?.exposures.map((one) => one.beams.length)).toEqual([1, 0]);
  });
});

describe('light that the laser ended by itself', () => {
  test('said after its end is exactly what was planned, however late it is said', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 600_000 }), (lateMs) => {
        const session = off(lit(), ON_AT_MS + PLANNED_MS + lateMs, true);
        expect(right(session).beams).toEqual([{ onAtMs: ON_AT_MS, offAtMs: ON_AT_MS + PLANNED_MS }]);
      }),
      { numRuns: 20 },
    );
  });

  test('said before its end is counted to the press', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: PLANNED_MS - 1 }), (shortMs) => {
        const session = off(lit(), ON_AT_MS + PLANNED_MS - shortMs, true);
        expect(deliveredMs(right(session), ON_AT_MS + PLANNED_MS)).toBe(PLANNED_MS - shortMs);
      }),
      { numRuns: 20 },
    );
  });

  test('in the second of two stretches makes up the planned seconds', () => {
    const again = on(off(lit(), ON_AT_MS + 30_000), ON_AT_MS + 45_000);
    const session = off(again, ON_AT_MS + 200_000, true);
    expect(deliveredMs(right(session), ON_AT_MS + 200_000)).toBe(PLANNED_MS);
  });
});

test('light that a person ended is counted to the press, also beyond what was planned', () => {
  const session = off(lit(), ON_AT_MS + PLANNED_MS + 2500);
  expect(deliveredMs(right(session), ON_AT_MS + 200_000)).toBe(PLANNED_MS + 2500);
});

test('light given once more after the whole is counted in full, never as less than none', () => {
  const whole = off(lit(), ON_AT_MS + PLANNED_MS + 2500);
  const again = on(whole, ON_AT_MS + 100_000, 'the physician orders more');
  for (const endedByLaser of [true, false]) {
    const session = off(again, ON_AT_MS + 110_000, endedByLaser);
    expect(right(session).beams.at(-1)).toEqual({ onAtMs: ON_AT_MS + 100_000, offAtMs: ON_AT_MS + 110_000 });
    expect(deliveredMs(right(session), ON_AT_MS + 200_000)).toBe(PLANNED_MS + 12_500);
    expect(session.context.deviations.map(({ words }) => words)).toEqual(['the right eye has had its whole light']);
  }
});
