import { describe, expect, test } from 'vitest';
import { eventOf } from '../../core/procedure/events.ts';
import { infusionRanMs } from '../../core/procedure/infusion.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { contentOf, type Session, sessionAfter } from '../../core/procedure/session.ts';
import { timerReport } from '../../core/procedure/timer-report.ts';
import {
  atOf,
  beamOff,
  beamOn,
  discharged,
  flushing,
  give,
  infusing,
  momentAt,
  ring,
  T0_AT_MS,
} from '../session-steps.ts';

const MINUTE_MS = 60_000;
const AT_MS = T0_AT_MS + 4 * MINUTE_MS;
const fromT0 = (seconds: number): number => T0_AT_MS + seconds * 1000;

/** What is told in words is kept in words, and nothing else moves. */
describe('what is told of a session', () => {
  test('a note', () => {
    const before = infusing();
    const { context } = give(before, { kind: 'note', words: 'the patient is calm' }, AT_MS);
    expect(before.context.notes).toEqual([]);
    expect(context.notes).toEqual([expect.objectContaining({ words: 'the patient is calm', atMs: AT_MS })]);
    expect(context.course).toEqual(before.context.course);
    expect(context.cuesHeard).toEqual([]);
    expect(context.cuesSounded).toEqual([]);
    expect(context.sleeps).toEqual([]);
  });

  test('a deviation, with its reason', () => {
    const { context } = give(
      infusing(),
      { kind: 'deviation', words: 'the lamp was on', reason: 'the blind is broken' },
      AT_MS,
    );
    expect(context.deviations).toEqual([
      expect.objectContaining({ words: 'the lamp was on', reason: 'the blind is broken', atMs: AT_MS }),
    ]);
  });

  test('an addendum to one that is over', () => {
    const over = discharged();
    const atMs = atOf('discharge') + MINUTE_MS;
    const { context } = give(over, { kind: 'addendum', words: 'the patient rang: all well', reason: 'called' }, atMs);
    expect(context.notes.map(({ words }) => words)).toEqual(['the patient rang: all well']);
    expect({ ...context, notes: [] }).toEqual({ ...over.context, notes: [] });
  });
});

describe('what was done about trouble', () => {
  const pain = { kind: 'trouble', card: 'pain' } as const;
  const told = (words: string) => ({ kind: 'trouble-told', card: 'pain', words }) as const;
  const wordsOf = ({ context }: Session) => context.troubles.map((one) => one.told?.words ?? null);

  test('is told of every trouble of that kind that waits for it, and of no other', () => {
    let session = give(infusing(), { kind: 'trouble', card: 'pump' }, AT_MS);
    session = give(session, pain, AT_MS + 1_000);
    session = give(session, pain, AT_MS + 2_000);
    session = give(session, told('better after a minute'), AT_MS + 60_000);
    expect(wordsOf(session)).toEqual([null, 'better after a minute', 'better after a minute']);
  });

  test('told once more, it is of the last of them', () => {
    let session = give(give(infusing(), pain, AT_MS), told('better after a minute'), AT_MS + 60_000);
    session = give(give(session, pain, AT_MS + 70_000), told('gone at once'), AT_MS + 80_000);
    session = give(session, told('gone, and did not come back'), AT_MS + 90_000);
    expect(wordsOf(session)).toEqual(['better after a minute', 'gone, and did not come back']);
  });

  test('told once more, it is of the last of its kind, though other trouble came later', () => {
    let session = give(give(infusing(), pain, AT_MS), told('better'), AT_MS + 60_000);
    session = give(session, { kind: 'trouble', card: 'pump' }, AT_MS + 70_000);
    session = give(session, told('gone'), AT_MS + 80_000);
    expect(wordsOf(session)).toEqual(['gone', null]);
  });
});

describe('a machine that slept in an infusion', () => {
  const SLEPT_MS = 90_000;

  function slept(session = infusing(), atMs = AT_MS): Session {
    const content = contentOf('slept', { sleptMs: SLEPT_MS, byWallMs: SLEPT_MS });
    const event = eventOf(content as Parameters<typeof eventOf>[0], {}, momentAt(atMs), STATION_AUTHOR);
    const next = sessionAfter(session, event);
    if (next === null) throw new Error('a sleep is not taken');
    return next;
  }
  const ranMs = ({ context }: Session, atMs: number): number =>
    context.course === null ? Number.NaN : infusionRanMs(context.course.infusion, atMs);

  test('counts on until somebody has looked', () => {
    const session = slept();
    expect(session.context.sleeps).toEqual([
      expect.objectContaining({ sleptMs: SLEPT_MS, counted: true, looked: null }),
    ]);
    expect(ranMs(session, AT_MS)).toBe(4 * MINUTE_MS);
  });

  test.each([
    ['ran on', 4 * MINUTE_MS],
    ['was off', 4 * MINUTE_MS],
    ['stood still', 4 * MINUTE_MS - SLEPT_MS],
  ] as const)('a pump that %s has run %i ms, and the light stays due from the start', (pump, ran) => {
    const before = slept();
    const session = give(before, { kind: 'looked', pump }, AT_MS);
    expect(ranMs(session, AT_MS)).toBe(ran);
    expect(session.context.sleeps[0]?.looked).toMatchObject({ pump });
    expect(session.context.course?.lightDueAtMs).toBe(before.context.course?.lightDueAtMs);
  });

  test('one look is of every sleep since the last, and of none before', () => {
    let session = give(slept(), { kind: 'looked', pump: 'stood still' }, AT_MS);
    session = slept(slept(session, AT_MS + MINUTE_MS), AT_MS + 2 * MINUTE_MS);
    session = give(session, { kind: 'looked', pump: 'stood still' }, AT_MS + 2 * MINUTE_MS);
    expect(ranMs(session, AT_MS + 2 * MINUTE_MS)).toBe(6 * MINUTE_MS - 3 * SLEPT_MS);
  });

  test('an infusion that had come to its end by the counts may come to it again', () => {
    const endMs = T0_AT_MS + 10 * MINUTE_MS;
    let session = give(infusing(), { kind: 'note', words: 'past the end' }, endMs + 1_000);
    expect(session.context.rung['infusion-due']).toBeDefined();
    session = give(slept(session, endMs + 1_000), { kind: 'looked', pump: 'stood still' }, endMs + 2_000);
    expect(session.context.rung['infusion-due']).toBeUndefined();
  });

  test('a look leaves what was said of an earlier sleep', () => {
    let session = give(slept(), { kind: 'looked', pump: 'stood still' }, AT_MS);
    session = give(slept(session, AT_MS + MINUTE_MS), { kind: 'looked', pump: 'ran on' }, AT_MS + MINUTE_MS);
    expect(session.context.sleeps.map(({ looked }) => looked?.pump)).toEqual(['stood still', 'ran on']);
  });

  test('with the pump off before it slept has nothing taken back: the infusion came to its end when it did', () => {
    const woken = slept(ring(flushing(), fromT0(640)), fromT0(640));
    const session = give(woken, { kind: 'looked', pump: 'stood still' }, fromT0(641));
    expect(timerReport(session.context)[0]).toEqual({ name: 'infusion end', dueS: 600, actualS: 600 });
    expect(session.context.course).toEqual(woken.context.course);
  });
});

describe('a press that came late', () => {
  test('a beam that had gone on before the key: the stretch begins earlier, and its end stays', () => {
    const before = beamOff();
    const atMs = atOf('beam-off:right') + 10_000;
    const session = give(before, { kind: 'beam-set-back', edge: 'on', agoS: 5 }, atMs);
    const [was] = before.context.course?.exposures[0]?.beams ?? [];
    const [is] = session.context.course?.exposures[0]?.beams ?? [];
    expect(is).toMatchObject({
      onAtMs: (was?.onAtMs ?? 0) - 5_000,
      offAtMs: was?.offAtMs,
      setBackS: { on: 5, off: 0 },
    });
  });

  test('a beam that had gone off before the key: the stretch ends earlier, and its beginning stays; twice adds up', () => {
    const before = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, atOf('beam-on:right') + 30_000);
    const atMs = atOf('beam-on:right') + 40_000;
    let session = give(before, { kind: 'beam-set-back', edge: 'off', agoS: 3 }, atMs);
    session = give(session, { kind: 'beam-set-back', edge: 'off', agoS: 2 }, atMs + 1_000);
    const [was] = before.context.course?.exposures[0]?.beams ?? [];
    const [is] = session.context.course?.exposures[0]?.beams ?? [];
    expect(is).toMatchObject({
      onAtMs: was?.onAtMs,
      offAtMs: (was?.offAtMs ?? 0) - 5_000,
      setBackS: { on: 0, off: 5 },
    });
  });

  test('a pump that had started before the key, set back after a hold: more has run, and the hold stays where it was', () => {
    const heldMs = T0_AT_MS + 20_000;
    const before = give(infusing(), { kind: 'hold', reason: 'pump' }, heldMs);
    const session = give(before, { kind: 'set-back', agoS: 8 }, heldMs + 5_000);
    const course = session.context.course;
    expect(course?.t0AtMs).toBe(T0_AT_MS - 8_000);
    expect(course?.infusion.ranBeforeMs).toBe(28_000);
    expect(course?.infusion.runningSinceAtMs).toBeNull();
    expect(course?.infusion.holds).toEqual(before.context.course?.infusion.holds);
  });

  test('set back while it runs untouched, the stretch itself begins earlier', () => {
    const session = give(infusing(), { kind: 'set-back', agoS: 8 }, T0_AT_MS + 20_000);
    expect(session.context.course?.infusion).toMatchObject({
      runningSinceAtMs: T0_AT_MS - 8_000,
      ranBeforeMs: 0,
    });
  });

  test('of two holds, a resume ends the one that is open', () => {
    let session = give(infusing(), { kind: 'hold', reason: 'pain' }, T0_AT_MS + 10_000);
    session = give(session, { kind: 'resume' }, T0_AT_MS + 20_000);
    session = give(session, { kind: 'hold', reason: 'pump' }, T0_AT_MS + 30_000);
    session = give(session, { kind: 'resume' }, T0_AT_MS + 40_000);
    expect(session.context.course?.infusion.holds.map(({ resumedAtMs }) => resumedAtMs)).toEqual([
      T0_AT_MS + 20_000,
      T0_AT_MS + 40_000,
    ]);
  });
});

describe('a start that is set back', () => {
  test('moves T0 on the wall as on the clock that counts, and the press on neither', () => {
    const { course } = give(infusing(), { kind: 'set-back', agoS: 8 }, fromT0(20)).context;
    expect(course).toMatchObject({
      t0AtMs: fromT0(-8),
      t0WallMs: momentAt(fromT0(-8)).wallMs,
      t0PressedAtMs: fromT0(0),
    });
  });

  test('after a hold, leaves the stretch that began with the resumption where it was', () => {
    const held = give(infusing(), { kind: 'hold', reason: 'pump' }, fromT0(20));
    const resumed = give(held, { kind: 'resume' }, fromT0(50));
    const { infusion } = give(resumed, { kind: 'set-back', agoS: 8 }, fromT0(60)).context.course ?? {};
    expect(infusion).toMatchObject({ runningSinceAtMs: fromT0(50), ranBeforeMs: 28_000 });
  });
});
