import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { judge } from '../../core/practice/judging.ts';
import { type MadeUpId, madeUpById } from '../../core/practice/made-up-troubles.ts';
import type { Thrown } from '../../core/practice/thrown.ts';
import type { Command } from '../../core/procedure/commands.ts';
import type { SessionRecord } from '../../core/procedure/record.ts';
import { beamOff, beamOn, give, infusing, stopped, T0_AT_MS, waiting } from '../session-steps.ts';
import { anyCourse, live } from './lived.ts';

const THROWN_AT_MS = T0_AT_MS + 200_000;
const BEAM_ON_AT_MS = T0_AT_MS + 900_000;

const thrown = (trouble: MadeUpId, atMs = THROWN_AT_MS, rate = 1) => ({ trouble, atMs, rate });
const answered = (command: Command, afterS: number): SessionRecord =>
  give(infusing(), command, THROWN_AT_MS + afterS * 1000).context;

describe('swelling at the vein', () => {
  const swelling = thrown('swelling');

  test.each([
    ['the card', { kind: 'trouble', card: 'extravasation' }],
    ['a hold for extravasation', { kind: 'hold', reason: 'extravasation' }],
    ['an early stop', { kind: 'stop-early', reason: 'no vein is left' }],
  ] as const)('is met by %s', (_how, command) => {
    expect(judge(swelling, answered(command, 8), THROWN_AT_MS + 9_000)).toEqual({ became: 'met', tookMs: 8_000 });
  });

  test('is not met by another card: the record would say something else', () => {
    const record = answered({ kind: 'trouble', card: 'pump' }, 8);
    expect(judge(swelling, record, THROWN_AT_MS + 9_000)).toEqual({ became: 'open', overdue: false });
  });

  test('is late once more time went by than was the aim, and says so before it is answered', () => {
    expect(judge(swelling, infusing().context, THROWN_AT_MS + 21_000)).toEqual({ became: 'open', overdue: true });
    const record = answered({ kind: 'hold', reason: 'extravasation' }, 21);
    expect(judge(swelling, record, THROWN_AT_MS + 60_000)).toEqual({ became: 'late', tookMs: 21_000 });
  });

  test('leaves as many real seconds however fast the clock runs', () => {
    const record = answered({ kind: 'hold', reason: 'extravasation' }, 60);
    expect(judge(thrown('swelling', THROWN_AT_MS, 6), record, THROWN_AT_MS + 60_000)).toEqual({
      became: 'met',
      tookMs: 10_000,
    });
  });

  test('is missed where the infusion went to its end', () => {
    expect(judge(swelling, waiting().context, T0_AT_MS + 700_000)).toEqual({ became: 'missed' });
  });

  test('is not met by what had been entered before it came', () => {
    const record = give(infusing(), { kind: 'hold', reason: 'extravasation' }, THROWN_AT_MS - 1_000).context;
    expect(judge(swelling, record, THROWN_AT_MS + 1_000).became).toBe('open');
  });
});

describe('the operator who would begin early', () => {
  const operator = thrown('early-operator', T0_AT_MS + 750_000);

  test('is open until the window opens, and met then', () => {
    const { context: record } = waiting();
    expect(judge(operator, record, T0_AT_MS + 899_000)).toEqual({ became: 'open', overdue: false });
    expect(judge(operator, record, T0_AT_MS + 900_000)).toEqual({ became: 'met', tookMs: null });
  });

  test('is met where light began at the window, and where the session was stopped without any', () => {
    expect(judge(operator, beamOn().context, BEAM_ON_AT_MS + 1_000).became).toBe('met');
    expect(judge(operator, stopped(waiting(), T0_AT_MS + 800_000).context, T0_AT_MS + 801_000).became).toBe('met');
  });

  test('is not met where light was begun before, with whatever reason', () => {
    const early = {
      kind: 'beam-on',
      eye: 'right',
      override: { reason: 'the operator is ready' },
    } as const satisfies Command;
    const record = give(waiting(), early, T0_AT_MS + 760_000).context;
    expect(judge(operator, record, T0_AT_MS + 1_000_000)).toEqual({ became: 'missed' });
  });
});

describe('the eye that moves', () => {
  const moved = thrown('moved-eye', BEAM_ON_AT_MS + 12_000);

  test.each([
    ['beam off by hand', { kind: 'beam-off', endedByLaser: false }],
    ['the card', { kind: 'trouble', card: 'moved' }],
  ] as const)('is met by %s', (_how, command) => {
    const record = give(beamOn(), command, BEAM_ON_AT_MS + 16_000).context;
    expect(judge(moved, record, BEAM_ON_AT_MS + 20_000)).toEqual({ became: 'met', tookMs: 4_000 });
  });

  test('is missed where the laser went on to its end', () => {
    expect(judge(moved, beamOff().context, BEAM_ON_AT_MS + 90_000)).toEqual({ became: 'missed' });
  });

  test('is judged by the stretch of light that it came in, not by a later one', () => {
    const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, BEAM_ON_AT_MS + 40_000);
    const on = give(off, { kind: 'beam-on', eye: 'right' }, BEAM_ON_AT_MS + 60_000);
    expect(judge(moved, on.context, BEAM_ON_AT_MS + 61_000)).toEqual({ became: 'late', tookMs: 28_000 });
  });
});

test('whatever is done, nothing counts as met that the record does not show', () => {
  fc.assert(
    fc.property(fc.uuid(), anyCourse, (sessionId, steps) => {
      const { record, thrown: all, endMs } = live(sessionId, steps);
      for (const one of all) {
        const judged = judge(one, record, endMs);
        if (judged.became !== 'met') continue;
        expect(shows(record, one)).toBe(true);
        if (judged.tookMs !== null) expect(judged.tookMs).toBeGreaterThanOrEqual(0);
      }
    }),
    { numRuns: 60 },
  );
});

/** Told another way than by the code that judges: over all that is in the record. */
function shows(record: SessionRecord, { trouble, atMs, scaleKg }: Thrown): boolean {
  const { course, troubles, stopped: stop } = record;
  const beams = course?.exposures.flatMap((exposure) => exposure.beams) ?? [];
  const { answeredBy } = madeUpById(trouble);
  if (answeredBy.by === 'putting the weight right') return record.measured?.weightKg === scaleKg;
  if (answeredBy.by === 'waiting for the window')
    return beams.every(({ onAtMs }) => onAtMs >= (course?.lightDueAtMs ?? 0));
  if (answeredBy.by === 'taking the beam off')
    return beams.some(({ onAtMs, offAtMs }) => onAtMs <= atMs && (offAtMs ?? 0) >= atMs);
  const named = [answeredBy.card, answeredBy.hold] as string[];
  return (
    stop !== null ||
    troubles.some((one) => named.includes(one.card) && one.atMs >= atMs) ||
    course?.infusion.holds.some(({ reason, heldAtMs }) => named.includes(reason) && heldAtMs >= atMs) === true
  );
}
