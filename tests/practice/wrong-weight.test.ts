import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deviationsOf } from '../../core/ledger/deviations.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { guideOf } from '../../core/practice/guide.ts';
import { judge } from '../../core/practice/judging.ts';
import { reviewOf } from '../../core/practice/review.ts';
import type { Thrown } from '../../core/practice/thrown.ts';
import { scaleKgFor } from '../../core/practice/wrong-weight.ts';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { entriesOf, give, momentAt, NURSE, ONE_EYE, played, readyFor, type Step, stopped } from '../session-steps.ts';
import { openedAs } from './lived.ts';

const second = ONE_EYE.find(({ name }) => name === 'second-check');
const measure = ONE_EYE.find(({ name }) => name === 'measure');
if (second?.command.kind !== 'second-check' || measure?.command.kind !== 'measure')
  throw new Error('a course has height, weight and a second computation');
const { atMs: SECOND_AT_MS, command: SECOND } = second;
const { command: MEASURE } = measure;

const SCALE_KG = 64.9;
const TOLD: Thrown = { trouble: 'wrong-weight', atMs: SECOND_AT_MS - 5_000, rate: 1, scaleKg: SCALE_KG };

/** What is done once the first entries are complete, a second apart. */
const secondWith = (weightKg: number): Step => ({ ...second, command: { ...SECOND, weightKg } });
const firstWith = (weightKg: number): Step => ({
  ...{ name: 'measure', atMs: SECOND_AT_MS, by: NURSE },
  command: { ...MEASURE, weightKg },
});
const doing = (steps: readonly Step[]): Session =>
  steps.reduce(
    (session, { command, by }, index) => give(session, command, SECOND_AT_MS + index * 1_000, by),
    readyFor('second-check'),
  );

const DIFFERED = [secondWith(SCALE_KG)];
const PUT_RIGHT = [secondWith(SCALE_KG), firstWith(SCALE_KG), secondWith(SCALE_KG)];
const GIVEN_IN = [secondWith(SCALE_KG), secondWith(71.5)];

/** A whole course with these in the place of its one second computation. */
const course = (steps: readonly Step[]): Step[] =>
  ONE_EYE.flatMap((step) =>
    step.name === 'second-check' ? steps.map((one, index) => ({ ...one, atMs: step.atMs + index * 1_000 })) : [step],
  );

const became = (session: Session) => judge(TOLD, session.context, SECOND_AT_MS + 60_000);
const guided = ({ context }: Session) =>
  guideOf(context, viewOf(context, 7, momentAt(SECOND_AT_MS + 10_000)), [TOLD], SECOND_AT_MS + 10_000, null);

describe('what the scale is said to show', () => {
  test('is less than was entered, enough for another dose, in tenths, and the same whenever it is asked for', () => {
    fc.assert(
      fc.property(fc.uuid(), fc.double({ min: 20, max: 350, noNaN: true }), (sessionId, weightKg) => {
        const { context } = readyFor('second-check');
        const record = { ...context, sessionId, measured: context.measured && { ...context.measured, weightKg } };
        const kg = scaleKgFor(record) ?? Number.NaN;
        expect(kg).toBeGreaterThanOrEqual(weightKg * 0.86 - 0.05);
        expect(kg).toBeLessThanOrEqual(weightKg * 0.94 + 0.05);
        expect(Number(kg.toFixed(1))).toBe(kg);
        expect(scaleKgFor(record)).toBe(kg);
      }),
    );
  });

  test('differs between sessions', () => {
    const { context } = readyFor('second-check');
    const shown = fc
      .sample(fc.uuid(), { numRuns: 100, seed: 4711 })
      .map((sessionId) => scaleKgFor({ ...context, sessionId }));
    expect(new Set(shown).size).toBeGreaterThan(20);
  });

  test('is nothing before there is a first computation, once there is a second, and where no such weight can be entered', () => {
    expect(scaleKgFor(openedAs('session-one').context)).toBeNull();
    expect(scaleKgFor(readyFor('measure').context)).toBeNull();
    expect(scaleKgFor(doing([secondWith(71.5)]).context)).toBeNull();
    const { context } = readyFor('second-check');
    expect(
      scaleKgFor({ ...context, measured: context.measured && { ...context.measured, weightKg: 10.2 } }),
    ).toBeNull();
  });
});

describe('the wrong weight', () => {
  test('is open while the two differ, and met once both agree on the scale’s', () => {
    expect(became(doing([]))).toEqual({ became: 'open', overdue: false });
    expect(became(doing(DIFFERED))).toEqual({ became: 'open', overdue: false });
    expect(became(doing(PUT_RIGHT.slice(0, 2)))).toEqual({ became: 'open', overdue: false });
    expect(became(doing(PUT_RIGHT))).toEqual({ became: 'met', tookMs: null });
  });

  test('is met as well where the first computation was put right before the second was made', () => {
    expect(became(doing([firstWith(SCALE_KG), secondWith(SCALE_KG)])).became).toBe('met');
  });

  test('is met by what pounds come to: the scale shows tenths', () => {
    const inPounds = 143.1 * 0.45359237;
    expect(became(doing([firstWith(inPounds), secondWith(inPounds)])).became).toBe('met');
    expect(became(doing([firstWith(65), secondWith(65)]))).toEqual({ became: 'open', overdue: true });
  });

  test('is not met by agreeing: where the second gave in, what to do is told, and after that it is missed', () => {
    expect(became(doing(GIVEN_IN))).toEqual({ became: 'open', overdue: true });
    const prepared = played(course(GIVEN_IN)).session;
    expect(became(prepared)).toEqual({ became: 'missed' });
  });

  test('is met where all was stopped before any drug was made up', () => {
    expect(became(stopped(doing(DIFFERED), SECOND_AT_MS + 9_000)).became).toBe('met');
  });
});

describe('beside the session', () => {
  const MEASURE_KEY = '5';
  const SECOND_KEY = '6';

  test.each([
    ['the second computation, before anything differs', [], SECOND_KEY],
    ['height and weight, once the two differ', DIFFERED, MEASURE_KEY],
    ['the second computation, once the first is put right', PUT_RIGHT.slice(0, 2), SECOND_KEY],
    ['height and weight, where the second gave in', GIVEN_IN, MEASURE_KEY],
    ['the way on, once both agree on the scale’s weight', PUT_RIGHT, 'Enter'],
    [
      'the second computation, where it was the second who typed the old weight',
      [firstWith(SCALE_KG), secondWith(71.5)],
      SECOND_KEY,
    ],
  ] as const)('the next key is %s', (_what, steps, key) => {
    expect(guided(doing(steps)).next?.key).toBe(key);
  });

  test('the weight is told as the scale shows it, and what to do only where the second gave in', () => {
    expect(guided(doing([])).thrown).toEqual([
      expect.objectContaining({
        words: 'the second person weighs the patient: the scale shows 64.9 kg',
        ...{ met: null, waiting: true, tookS: null },
      }),
    ]);
    expect(guided(doing(GIVEN_IN)).thrown[0]?.met).toBe(false);
  });
});

describe('afterwards', () => {
  const reviewed = (steps: readonly Step[], thrown: readonly Thrown[]) => {
    const { session, events } = played(course(steps));
    const measures = measuresOf(entriesOf(events));
    expect(deviationsOf(measures, DEFAULT_LIMITS).length).toBeGreaterThan(0);
    return reviewOf({ record: session.context, measures, thrown, limits: DEFAULT_LIMITS, rate: 1 });
  };
  const again = (lines: ReturnType<typeof reviewed>) => lines.filter(({ well }) => !well).map(({ words }) => words);

  test('a weight that was put right is told as gone well, and the difference stands against nobody', () => {
    const lines = reviewed(PUT_RIGHT, [TOLD]);
    expect(lines[0]).toEqual({
      well: true,
      words: 'the second person weighs the patient: the scale shows 64.9 kg: no drug was made up for another weight',
    });
    expect(lines).toContainEqual({
      well: true,
      words: 'the second computation found the wrong weight, and agreed once it was put right',
    });
    expect(again(lines)).toEqual([]);
  });

  test('a second person who gave in is told so, and the difference too', () => {
    expect(again(reviewed(GIVEN_IN, [TOLD]))).toEqual([
      'the second person weighs the patient: the scale shows 64.9 kg: the drug was made up for another weight. ' +
        'Next time: type the weight anew, and have the second person compute again',
      expect.stringContaining('agreed only after a difference had been shown'),
    ]);
  });

  test('one difference is excused, and no second one; without such trouble none is', () => {
    const twice = [secondWith(SCALE_KG), secondWith(70), firstWith(SCALE_KG), secondWith(SCALE_KG)];
    expect(again(reviewed(twice, [TOLD]))).toEqual([expect.stringContaining('after a difference had been shown')]);
    expect(again(reviewed(PUT_RIGHT, []))).toEqual([expect.stringContaining('after a difference had been shown')]);
  });
});
