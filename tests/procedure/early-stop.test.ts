import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { beamIsOn, deliveredMs } from '../../core/procedure/exposure.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  atOf,
  beamOn,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  missing,
  momentAt,
  NURSE,
  planned,
  prepared,
  primed,
  stopped,
  T0_AT_MS,
  waiting,
} from '../session-steps.ts';

const minutes = (count: number): number => T0_AT_MS + count * 60_000;
const discharge: Command = { kind: 'discharge' };

const BEFORE_THE_PUMP = [
  ['planning', planned(), atOf('prepare')],
  ['prepared', prepared(), atOf('prepare') + 1000],
  ['line primed', primed(), atOf('prime-line') + 1000],
] as const;

const SINCE_THE_PUMP = [
  ['infusing', infusing(), minutes(4)],
  ['held', held(), minutes(4)],
  ['flushing', flushing(), minutes(10) + 20_000],
  ['waiting for the light', waiting(), minutes(12)],
  ['light', beamOn(), minutes(15) + 20_000],
  ['after-care', inAfterCare(), atOf('end-light') + 5000],
] as const;

describe.each([...BEFORE_THE_PUMP, ...SINCE_THE_PUMP])('a stop while %s', (_state, before, atMs) => {
  const session = stopped(before, atMs);

  test('leads to "stopped early", with its reason, its time and its author', () => {
    expect(stateOf(session.context)).toBe('stoppedEarly');
    const { reached, stopped: stop } = session.context;
    expect(reached.at(-1)).toMatchObject({ state: 'stoppedEarly', atMs, by: NURSE });
    expect(stop).toMatchObject({ reason: 'the physician stops the treatment', atMs, by: NURSE });
  });

  test('clears everything that was waited for', () => {
    expect(duesOf(before.context).length > 0).toBe(!['planning', 'after-care'].includes(_state));
    expect(duesOf(session.context)).toEqual([]);
    const view = viewOf(session.context, 1, momentAt(atMs + 1000));
    expect(view.timers.filter((timer) => timer.phase === 'running')).toEqual([]);
    expect(view.board).toMatchObject({ title: 'stopped early', main: null, second: null });
  });

  test('leaves neither pump nor beam on', () => {
    const { course } = session.context;
    if (course === null) return expect(before.context.course).toBeNull();
    expect(course.infusion.runningSinceAtMs).toBeNull();
    expect(course.infusion.pumpOffAtMs).toBeLessThanOrEqual(atMs);
    expect(course.exposures.some(beamIsOn)).toBe(false);
  });

  test('is the last: it cannot be stopped again', () => {
    expect(missing(session, { kind: 'stop-early', reason: 'once more' }, atMs + 1000)[0]).toMatch(/^possible only in/);
  });
});

test.each(BEFORE_THE_PUMP)('stopped while %s, nothing is owed: it can be closed at once', (_state, before, atMs) => {
  const session = stopped(before, atMs);
  expect(viewOf(session.context, 1, momentAt(atMs)).tasks).toEqual([]);
  expect(viewOf(session.context, 1, momentAt(atMs)).lightCareUntilWallMs).toBeNull();
  expect(stateOf(give(session, discharge, atMs + 1000).context)).toBe('discharged');
});

test.each(SINCE_THE_PUMP)('stopped while %s, after-care is owed', (_state, before, atMs) => {
  expect(missing(stopped(before, atMs), discharge, atMs + 1000)).toEqual([
    'the warning bracelet is not on',
    'the light-precaution sheet is not given',
    'reactions, or that there were none, are not entered',
    'the review date is not set',
  ]);
});

test('a stop takes the pump off at its instant and keeps what had run', () => {
  const { course } = stopped(infusing(), minutes(4)).context;
  expect(course?.infusion).toMatchObject({ pumpOffAtMs: minutes(4), ranBeforeMs: 240_000 });
});

test('a stop while held counts only what had run before the hold', () => {
  const { course } = stopped(held(), minutes(4)).context;
  expect(course?.infusion).toMatchObject({ pumpOffAtMs: minutes(4), ranBeforeMs: 120_000 });
});

test('a stop after the flush leaves the pump off since when it was', () => {
  const { course } = stopped(waiting(), minutes(12)).context;
  expect(course?.infusion).toMatchObject({ pumpOffAtMs: minutes(10), ranBeforeMs: 600_000 });
});

test('a stop takes the beam off at its instant and keeps the light given', () => {
  const exposure = stopped(beamOn(), minutes(15) + 20_000).context.course?.exposures[0];
  expect(exposure?.beams).toEqual([{ onAtMs: minutes(15), offAtMs: minutes(15) + 20_000 }]);
  expect(exposure && deliveredMs(exposure, minutes(30))).toBe(20_000);
});

test('light precautions count from the end of the pump, early or not', () => {
  const view = viewOf(stopped(infusing(), minutes(4)).context, 1, momentAt(minutes(60)));
  const pumpOffWallMs = momentAt(minutes(4)).wallMs;
  expect(view.lightCareUntilWallMs).toBe(pumpOffWallMs + 120 * 3_600_000);
});
