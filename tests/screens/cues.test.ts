import { describe, expect, test } from 'vitest';
import { type Cue, cuesOf } from '../../core/procedure/cues.ts';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  beamOff,
  beamOn,
  give,
  held,
  inAfterCare,
  infusing,
  momentAt,
  planned,
  ring,
  stopped,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const minute = (minutes: number): number => T0_AT_MS + minutes * 60_000;

const cuesAt = (session: Session, atMs: number): Cue[] =>
  cuesOf(viewOf(ring(session, atMs).context, 1, momentAt(atMs)));

/** Each cue with the minutes from T0 at which it sounds. */
const minutesAt = (session: Session, atMs: number): [string, number][] =>
  cuesAt(session, atMs).map(({ id, dueAtMs }) => [id, (dueAtMs - T0_AT_MS) / 60_000]);

const LIGHT_CUES = [
  ['light-window-2min', 13],
  ['light-window-1min', 14],
  ['light-window-open', 15],
];

describe('while the infusion runs', () => {
  test('its end and the light window have cues, all counted from T0', () => {
    expect(minutesAt(infusing(), minute(1))).toEqual([['infusion-end', 10], ...LIGHT_CUES]);
  });

  test('a hold takes the infusion cue away and leaves those of the light', () => {
    expect(minutesAt(held(), minute(4))).toEqual(LIGHT_CUES);
  });

  test('after a hold of 3 min the infusion cue comes 3 min later and those of the light as before', () => {
    const resumed = give(held(), { kind: 'resume' }, minute(5));
    expect(minutesAt(resumed, minute(6))).toEqual([
      ['infusion-end', 13],
      ['light-window-2min', 13],
      ['light-window-1min', 14],
      ['light-window-open', 15],
    ]);
  });

  test('a start set back by 8 s brings every cue forward by 8 s', () => {
    const before = cuesAt(infusing(TWO_EYES), minute(1));
    const setBack = cuesAt(give(infusing(TWO_EYES), { kind: 'set-back', agoS: 8 }, minute(0.5)), minute(1));
    expect(setBack).toEqual(before.map((cue) => ({ ...cue, dueAtMs: cue.dueAtMs - 8000 })));
  });
});

describe('around the light', () => {
  test('once the pump is off, the infusion has no cue', () => {
    expect(minutesAt(waiting(), minute(12))).toEqual(LIGHT_CUES);
  });

  test('the end of the light is due as long after beam on as ordered', () => {
    const cue = cuesAt(beamOn(), minute(15.5)).find(({ id }) => id === 'exposure-end');
    expect(cue?.dueAtMs).toBe(minute(15) + 83_000);
  });

  test('light that was broken off has its end as much later as the beam was off', () => {
    const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, minute(15) + 30_000);
    expect(cuesAt(off, minute(16)).some(({ id }) => id === 'exposure-end')).toBe(false);
    const again = give(off, { kind: 'beam-on', eye: 'right' }, minute(15) + 50_000);
    const cue = cuesAt(again, minute(16)).find(({ id }) => id === 'exposure-end');
    expect(cue?.dueAtMs).toBe(minute(15) + 103_000);
  });

  test('a second eye is warned of 1 min before its limit, until its light begins', () => {
    const warned = (session: Session, atMs: number) =>
      minutesAt(session, atMs).filter(([id]) => id === 'second-eye-1min');
    expect(warned(infusing(TWO_EYES), minute(1))).toEqual([['second-eye-1min', 19]]);
    expect(warned(beamOff(TWO_EYES), minute(17))).toEqual([['second-eye-1min', 19]]);
    const reason = { override: { reason: 'the physician says so' } };
    const begun = give(beamOff(TWO_EYES), { kind: 'beam-on', eye: 'left', ...reason }, minute(17));
    expect(warned(begun, minute(17.2))).toEqual([]);
    expect(warned(infusing(), minute(1))).toEqual([]);
  });
});

test('there is no cue before the pump has started, nor once the light is done or the session stopped', () => {
  expect(cuesAt(planned(), T0_AT_MS)).toEqual([]);
  expect(cuesAt(inAfterCare(), minute(20))).toEqual([]);
  expect(cuesAt(stopped(infusing(), minute(2)), minute(3))).toEqual([]);
});

test('every cue says whose it is and what it tells', () => {
  for (const cue of cuesAt(beamOn(TWO_EYES), minute(15.5))) {
    expect(cue.sessionId).toBe('session-one');
    expect(cue.words).toMatch(/^[a-z0-9 :]+$/);
    expect(cue.sound).toBe(cue.id);
  }
});
