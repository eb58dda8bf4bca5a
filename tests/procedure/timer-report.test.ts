import { expect, test } from 'vitest';
import { eventOf } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { timerReport } from '../../core/procedure/timer-report.ts';
import {
  atOf,
  beamOff,
  beamOn,
  discharged,
  flushing,
  give,
  held,
  infusing,
  momentAt,
  OPERATOR,
  primed,
  ring,
  stopped,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';

const reportOf = ({ context }: Session) => timerReport(context).map(({ name, dueS, actualS }) => [name, dueS, actualS]);

test('before the pump there is nothing to report', () => {
  expect(reportOf(primed())).toEqual([]);
});

test('at T0 both timers are due and neither has come', () => {
  expect(reportOf(infusing())).toEqual([
    ['infusion end', 600, null],
    ['light window', 900, null],
  ]);
});

test('a whole treatment of two eyes: each timer when it was due and when it was entered', () => {
  expect(reportOf(discharged(TWO_EYES))).toEqual([
    ['infusion end', 600, 600],
    ['light window', 900, 900],
    ['second eye limit', 1200, null],
    ['exposure, right eye', 983, 983],
    ['exposure, left eye', 1123, 1123],
  ]);
});

test('a timer that was entered late says by how much', () => {
  const due = { kind: 'infusion-due', dueAtMs: T0_AT_MS + 600_000 } as const;
  const late = sessionAfter(infusing(), eventOf(due, {}, momentAt(T0_AT_MS + 600_042), STATION_AUTHOR));
  expect(late && reportOf(late)[0]).toEqual(['infusion end', 600, 600.042]);
});

test('a hold moves the infusion end and not the light window', () => {
  const resumed = give(held(), { kind: 'resume' }, T0_AT_MS + 165_000);
  expect(reportOf(resumed)).toEqual([
    ['infusion end', 645, null],
    ['light window', 900, null],
  ]);
});

test('while held the end stands where it would be if it were resumed at once', () => {
  expect(reportOf(held())[0]).toEqual(['infusion end', 600, null]);
});

test('a start set back changes nothing that is counted from T0', () => {
  const back = give(infusing(), { kind: 'set-back', agoS: 8 }, T0_AT_MS + 30_000);
  expect(reportOf(ring(back, T0_AT_MS + 950_000))).toEqual([
    ['infusion end', 600, 600],
    ['light window', 900, 900],
  ]);
});

test('an infusion cut short by its flush or by a stop is reported as due when it was, and as not come', () => {
  const early = { kind: 'begin-flush', override: { reason: 'the syringe is empty' } } as const;
  expect(reportOf(give(infusing(), early, T0_AT_MS + 560_000))[0]).toEqual(['infusion end', 600, null]);
  expect(reportOf(stopped(infusing(), T0_AT_MS + 240_000))[0]).toEqual(['infusion end', 600, null]);
  expect(reportOf(flushing())[0]).toEqual(['infusion end', 600, 600]);
});

test('an exposure with a pause is due later by the pause', () => {
  const paused = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, T0_AT_MS + 930_000, OPERATOR);
  const again = give(paused, { kind: 'beam-on', eye: 'right' }, T0_AT_MS + 945_000, OPERATOR);
  expect(reportOf(again)[2]).toEqual(['exposure, right eye', 998, null]);
  expect(reportOf(ring(again, T0_AT_MS + 1_000_000))[2]).toEqual(['exposure, right eye', 998, 998]);
});

const rowOf = (session: Session, name: string) => timerReport(session.context).find((one) => one.name === name);

test('the limit of the second eye is reported as come once it came', () => {
  const limitAtMs = T0_AT_MS + 1_200_000;
  const row = rowOf(ring(beamOff(TWO_EYES), limitAtMs), 'second eye limit');
  expect(row).toEqual({ name: 'second eye limit', dueS: 1200, actualS: 1200 });
});

test('light that was broken off is reported as due when it would have ended', () => {
  const onAtMs = atOf('beam-on:right');
  const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, onAtMs + 30_000, OPERATOR);
  expect(rowOf(off, 'exposure, right eye')).toEqual({ name: 'exposure, right eye', dueS: 983, actualS: null });
});
