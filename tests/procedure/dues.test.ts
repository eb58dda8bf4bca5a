import { describe, expect, test } from 'vitest';
import { duesOf } from '../../core/procedure/dues.ts';
import type { Session } from '../../core/procedure/session.ts';
import {
  after,
  beamOff,
  beamOn,
  discharged,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  OPENED_AT_MS,
  planned,
  prepared,
  primed,
  ring,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

/** What a session waits for: each instant's name with its minutes and seconds from T0, the earliest first. */
const waitsFor = ({ context }: Session): [string, string][] =>
  duesOf(context).map((due) => {
    const seconds = (due.dueAtMs - T0_AT_MS) / 1000;
    const text = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
    return [due.kind === 'exposure-due' ? `${due.kind} ${due.eye}` : due.kind, text];
  });

/** Reconstituted ten minutes before T0 and good for 4 h. */
const EXPIRY: [string, string] = ['drug-expiry-due', '230:00'];

describe('what a session waits for', () => {
  test.each<[string, Session, [string, string][]]>([
    ['while planning', planned(), []],
    ['once the drug is made up', prepared(), [EXPIRY]],
    ['once the line is primed', primed(), [EXPIRY]],
    ['while infusing', infusing(), [['infusion-due', '10:00'], ['light-due', '15:00'], EXPIRY]],
    [
      'while infusing for two eyes',
      infusing(TWO_EYES),
      [['infusion-due', '10:00'], ['light-due', '15:00'], ['second-eye-due', '20:00'], EXPIRY],
    ],
    ['while held', held(), [['light-due', '15:00'], EXPIRY]],
    [
      'while flushing',
      flushing(),
      [
        ['flush-due', '11:00'],
        ['light-due', '15:00'],
      ],
    ],
    ['while waiting for the light', waiting(), [['light-due', '15:00']]],
    ['while the beam is on', beamOn(), [['exposure-due right', '16:23']]],
    [
      'while the beam is on, the first of two eyes',
      beamOn(TWO_EYES),
      [
        ['exposure-due right', '16:23'],
        ['second-eye-due', '20:00'],
      ],
    ],
    ['between two eyes', beamOff(TWO_EYES), [['second-eye-due', '20:00']]],
    [
      'while the beam is on, the second of two eyes',
      after('beam-on:left', TWO_EYES),
      [
        ['exposure-due left', '18:43'],
        ['second-eye-due', '20:00'],
      ],
    ],
    ['in after-care', inAfterCare(), []],
    ['once discharged', discharged(), []],
  ])('%s', (_when, session, dues) => {
    expect(waitsFor(session)).toEqual(dues);
  });
});

test('the drug expires 4 h after it was reconstituted, which was minutes before it was entered', () => {
  expect(duesOf(prepared().context)).toEqual([{ kind: 'drug-expiry-due', dueAtMs: OPENED_AT_MS + 4 * 3_600_000 }]);
});

test('an instant that has come is not waited for again, also after a hold', () => {
  const rung = ring(infusing(), T0_AT_MS + 601_000);
  expect(waitsFor(rung)).toEqual([['light-due', '15:00'], EXPIRY]);
  const paused = give(rung, { kind: 'hold', reason: 'pump' }, T0_AT_MS + 605_000);
  expect(waitsFor(give(paused, { kind: 'resume' }, T0_AT_MS + 610_000))).toEqual([['light-due', '15:00'], EXPIRY]);
});

test('the light window comes due while the infusion is held, however long', () => {
  const { rung } = ring(held(), T0_AT_MS + 20 * 60_000).context;
  expect(rung).toEqual({
    'light-due': { dueAtMs: T0_AT_MS + 900_000, rungAtMs: T0_AT_MS + 900_000 },
  });
});

test('a hold takes the end of the infusion away, a resumption brings it back later by its length', () => {
  const resumed = give(held(), { kind: 'resume' }, T0_AT_MS + 150_000);
  expect(waitsFor(resumed)).toContainEqual(['infusion-due', '10:30']);
});
