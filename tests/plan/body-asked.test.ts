import { describe, expect, test } from 'vitest';
import { BODY_QUESTION_IDS, questionsAbout } from '../../core/dosing/body-entry.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import { type Command, commandSchema } from '../../core/procedure/commands.ts';
import { atOf, commandOf, give, missing, NURSE, play, readyFor, SECOND_NURSE, stepsBefore } from '../session-steps.ts';

const measure = (heightCm: number, weightKg: number, asked?: (typeof BODY_QUESTION_IDS)[number][]): Command => ({
  kind: 'measure',
  heightCm,
  weightKg,
  ...(asked === undefined ? {} : { asked }),
});
const atMs = atOf('measure');
const before = readyFor('measure');

describe('height and weight that look like a slip', () => {
  test.each([
    ['in each other’s place', 71.5, 168],
    ['in pounds', 168, 157.6],
    ['in kilograms entered as pounds', 168, 32.43],
    ['in inches', 66, 71.5],
    ['in inches and pounds', 66, 157.6],
    ['unusual together', 110, 30],
  ])('%s are refused with every question in words', (_what, heightCm, weightKg) => {
    const questions = questionsAbout(heightCm, weightKg);
    expect(questions.length).toBeGreaterThan(0);
    expect(missing(before, measure(heightCm, weightKg), atMs)).toEqual([questions.map((one) => one.says).join(' ')]);
  });

  test.each([
    [71.5, 168],
    [66, 157.6],
    [110, 30],
  ])('%d cm and %d kg wait for an answer to each question, not to some of them', (heightCm, weightKg) => {
    const ids = questionsAbout(heightCm, weightKg).map((one) => one.id);
    for (const left of ids) {
      const asked = ids.filter((id) => id !== left);
      expect(missing(before, measure(heightCm, weightKg, asked), atMs)).toHaveLength(1);
    }
    expect(missing(before, measure(heightCm, weightKg, ids), atMs)).toEqual([]);
  });

  test('are taken as entered once all is answered, and the entry says what was asked', () => {
    const ids = questionsAbout(110, 30).map((one) => one.id);
    const { measured } = give(before, measure(110, 30, ids), atMs).context;
    expect(measured).toMatchObject({ heightCm: 110, weightKg: 30, asked: ['unusual'] });
    const words = wordsFor({ kind: 'measure', payload: { heightCm: 110, weightKg: 30, asked: ids } });
    expect(words).toBe('110 cm, 30 kg (asked about, and confirmed: unusual)');
  });

  test('are not let through by an answer to a question that was not asked', () => {
    expect(missing(before, measure(110, 30, ['swapped', 'weight-in-lb']), atMs)).toHaveLength(1);
  });

  test('are asked about once more when a second person enters them', () => {
    const ids = questionsAbout(110, 30).map((one) => one.id);
    const first = stepsBefore('second-check').map((step) =>
      step.name === 'measure' ? { ...step, command: measure(110, 30, ids) } : step,
    );
    const session = play(first);
    const second = { ...commandOf('second-check'), heightCm: 110, weightKg: 30 } as Command;
    const secondMs = atOf('second-check');
    expect(missing(session, second, secondMs, SECOND_NURSE)).toEqual([
      questionsAbout(110, 30)
        .map((one) => one.says)
        .join(' '),
    ]);
    const answered = { ...second, asked: ids } as Command;
    expect(missing(session, answered, secondMs, SECOND_NURSE)).toEqual([]);
    expect(give(session, answered, secondMs, SECOND_NURSE).context.secondCheck?.agrees).toBe(true);
  });
});

test('every question can be answered in a command, and all of them at once', () => {
  const command = measure(66, 157.6, [...BODY_QUESTION_IDS]);
  expect(commandSchema.parse(command)).toEqual(command);
  const { success } = commandSchema.safeParse({ ...command, asked: ['whatever'] });
  expect(success).toBe(false);
});

test('an ordinary height and weight are asked nothing', () => {
  expect(missing(before, measure(168, 71.5), atMs, NURSE)).toEqual([]);
});
