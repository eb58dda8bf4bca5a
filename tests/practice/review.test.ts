import { describe, expect, test } from 'vitest';
import { deviationsOf } from '../../core/ledger/deviations.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import type { MadeUpId } from '../../core/practice/made-up-troubles.ts';
import { limitsAt, PRESS_S, reviewOf } from '../../core/practice/review.ts';
import type { Thrown } from '../../core/practice/thrown.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { entriesOf, ONE_EYE, played, type Step, T0_AT_MS } from '../session-steps.ts';
import { at } from './lived.ts';

const THROWN_AT_S = 200;

const thrown = (trouble: MadeUpId, fromT0S = THROWN_AT_S): Thrown => ({
  trouble,
  atMs: T0_AT_MS + fromT0S * 1000,
  rate: 1,
});

function reviewed(steps: readonly Step[], troubles: readonly Thrown[] = [], rate = 1) {
  const { session, events } = played(steps);
  const measures = measuresOf(entriesOf(events));
  const lines = reviewOf({ record: session.context, measures, thrown: troubles, limits: DEFAULT_LIMITS, rate });
  const words = (well: boolean): string[] => lines.filter((line) => line.well === well).map((line) => line.words);
  return { well: words(true), again: words(false) };
}

/** The course with more commands in it, and everything from the flush's beginning to its end so many seconds later. */
function course(more: readonly Step[], laterS = 0): Step[] {
  const steps = ONE_EYE.map((step) =>
    step.command.kind === 'begin-flush' || step.command.kind === 'end-flush'
      ? { ...step, atMs: step.atMs + laterS * 1000 }
      : step,
  );
  return [...steps, ...more].sort((one, other) => one.atMs - other.atMs);
}

const GONE_WELL = [
  'the second computation was by other hands',
  'the second computation agreed at the first try',
  'the pump ran 10 min, of 10 min planned',
  'the flush took 60 s',
  'light began 0 s after its window opened',
  'the light was given as ordered',
  'no step was forced',
];

test('a session as it ought to go has all of it gone well, and nothing to look at again', () => {
  expect(reviewed(ONE_EYE)).toEqual({ well: GONE_WELL, again: [] });
});

test('what the computer did is not told as if a nurse had done it', () => {
  const measures = measuresOf(entriesOf(played(ONE_EYE).events));
  const found = deviationsOf(measures, DEFAULT_LIMITS).map(({ ruleId }) => ruleId);
  expect(found).toContain('cue-missing');
  expect(reviewed(ONE_EYE).again).toEqual([]);
});

describe('made-up swelling', () => {
  const goneOn = (afterS: number, more: readonly Step[] = []): Step[] =>
    course(
      [
        at(THROWN_AT_S + afterS, { kind: 'trouble', card: 'extravasation' }),
        at(THROWN_AT_S + afterS + 60, { kind: 'resume', override: { reason: 'the other arm, says the physician' } }),
        at(THROWN_AT_S + afterS + 70, { kind: 'trouble-told', card: 'extravasation', words: 'cold, covered, 5 mL' }),
        ...more,
      ],
      75,
    );

  test('met in time: neither the hold nor going on with a reason stands against anybody', () => {
    const { well, again } = reviewed(goneOn(8), [thrown('swelling')]);
    expect(well[0]).toBe('the patient says the arm stings; it is swelling at the vein: answered in 8 s');
    expect(well).toContain('after the swelling the infusion went on with a reason, as it has to');
    expect(again).toEqual([]);
  });

  test('met late: how late, and what was the aim', () => {
    const { again } = reviewed(goneOn(35), [thrown('swelling')]);
    expect(again).toEqual([
      'the patient says the arm stings; it is swelling at the vein: answered after 35 s; the aim was 20 s',
    ]);
  });

  test('that was not thrown excuses nothing: the hold and the forced step are told', () => {
    const { again } = reviewed(goneOn(8));
    expect(again).toHaveLength(2);
    expect(again[0]).toMatch(/^the infusion was held for 60 s/);
    expect(again[1]).toMatch(/^resume, although after extravasation/);
  });

  test('does not excuse a hold for something else', () => {
    const other = [at(100, { kind: 'hold', reason: 'pump' }), at(110, { kind: 'resume' })];
    expect(reviewed(goneOn(8, other), [thrown('swelling')]).again).toEqual([
      expect.stringMatching(/^the infusion was held for 10 s/),
    ]);
  });
});

describe('trouble that nobody met', () => {
  test('is told with what to press next time', () => {
    expect(reviewed(ONE_EYE, [thrown('back-pain')]).again).toEqual([
      'the patient says the back hurts; it began just now: not answered. ' +
        'Next time: stop the pump: T and the card of pain, or H for pain',
    ]);
  });

  test('and an operator who was held off is told as gone well', () => {
    expect(reviewed(ONE_EYE, [thrown('early-operator', 750)]).well[0]).toContain('nobody began before the window');
  });
});

test('a second computation that differed at first is to be looked at again', () => {
  const second = ONE_EYE.find(({ command }) => command.kind === 'second-check');
  if (second === undefined || second.command.kind !== 'second-check') throw new Error('a course has a second check');
  const wrong = { ...second, command: { ...second.command, weightKg: 75.1 }, atMs: second.atMs - 10_000 };
  const { again, well } = reviewed([...ONE_EYE, wrong].sort((one, other) => one.atMs - other.atMs));
  expect(again).toEqual([expect.stringContaining('agreed only after a difference had been shown')]);
  expect(well).not.toContain('the second computation agreed at the first try');
});

test('a late light is told with how late, by the limit of the site', () => {
  const late = ONE_EYE.map((step) =>
    ['beam-on:right', 'beam-off:right'].includes(step.name) ? { ...step, atMs: step.atMs + 45_000 } : step,
  );
  expect(reviewed(late).again).toEqual([expect.stringMatching(/^light began 45 s after its window opened/)]);
});

test('where the clock runs faster, a press has as much longer on it as a person needs', () => {
  const late = ONE_EYE.map((step) =>
    ['beam-on:right', 'beam-off:right'].includes(step.name) ? { ...step, atMs: step.atMs + 45_000 } : step,
  );
  expect(limitsAt(DEFAULT_LIMITS, 1)).toEqual(DEFAULT_LIMITS);
  expect(limitsAt(DEFAULT_LIMITS, 6).lightStartWithinS).toBe(DEFAULT_LIMITS.lightStartWithinS + 5 * PRESS_S);
  expect(limitsAt(DEFAULT_LIMITS, 6).holdMaxS).toBe(DEFAULT_LIMITS.holdMaxS);
  expect(reviewed(late, [], 6).again).toEqual([]);
  expect(reviewed(late, [], 6).well).toContain('light began 45 s after its window opened, on a clock 6 times as fast');
});

test('a session that was stopped before any drug is told no more than it had', () => {
  const steps = [...ONE_EYE.slice(0, 2), at(-500, { kind: 'stop-early', reason: 'the patient is unwell' })];
  expect(reviewed([...steps, at(-490, { kind: 'discharge' })])).toEqual({
    well: [],
    again: ['stopped early, before any drug: the patient is unwell'],
  });
});
