import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEVIATION_RULES } from '../../../core/ledger/deviations.ts';
import { findFilterSchema } from '../../../core/ledger/find-filter.ts';
import { STATES } from '../../../core/procedure/states.ts';
import { REGIMENS } from '../../../core/regimen/regimens.ts';
import { filterFields, nameable } from '../../../renderer/ledger/find/filter-fields.ts';
import { QUICK_CHOICES } from '../../../renderer/ledger/find/quick-choices.ts';
import { filterWords, readFilter, typedOf } from '../../../renderer/ledger/find/read-filter.ts';
import type { Values } from '../../../renderer/parts/field.ts';

const NAMES = nameable(REGIMENS);
const read = (values: Values) => readFilter(values, NAMES);
const filterOf = (values: Values) => {
  const found = read(values);
  if (!found.ok) throw new Error(JSON.stringify(found.errors));
  return found.filter;
};
const errorsOf = (values: Values) => {
  const found = read(values);
  return found.ok ? {} : found.errors;
};
const local = (...parts: [number, number, number]): number => new Date(...parts).getTime();

describe('what is typed into the filter', () => {
  test('asks for nothing where nothing is typed', () => {
    expect(filterOf({ from: ' ', lot: '', deviation: '  ' })).toStrictEqual({});
  });

  test('is a day from its first instant to its last, and a month from its first day to its last', () => {
    expect(filterOf({ from: '2026-03-02', to: '20260302' })).toStrictEqual({
      fromWallMs: local(2026, 2, 2),
      toWallMs: local(2026, 2, 3),
    });
    expect(filterOf({ from: '2024-02', to: '2024-02' })).toStrictEqual({
      fromWallMs: local(2024, 1, 1),
      toWallMs: local(2024, 2, 1),
    });
  });

  test.each([
    ['2026-02-30', 'a day that is not in the calendar'],
    ['2026-13', 'a month that is not'],
    ['yesterday', 'a word'],
    ['02.03.2026', 'another order'],
  ])('%s, %s, is refused with an example', (from) => {
    expect(errorsOf({ from })).toStrictEqual({ from: 'write a day as 2026-03-02, or a month as 2026-03' });
  });

  test('is refused where it ends before it begins', () => {
    expect(errorsOf({ from: '2026-03-02', to: '2026-03-01' })).toStrictEqual({ to: 'that is before the first day' });
  });

  test('names a deviation by beginnings of its words, in any order', () => {
    expect(filterOf({ deviation: 'late light' })).toStrictEqual({ deviation: 'light-late' });
    expect(filterOf({ deviation: 'Any' })).toStrictEqual({ deviation: 'any' });
    expect(filterOf({ state: 'stop', regimen: 'half time' })).toMatchObject({ state: 'stoppedEarly' });
  });

  test('is told what it could be where it is several, and what there is where it is none', () => {
    expect(errorsOf({ deviation: 'late' }).deviation).toMatch(/^could be light begun late, .*: type more of it$/);
    expect(errorsOf({ deviation: 'purple' }).deviation).toMatch(/^no deviation is called so: for example /);
    expect(errorsOf({ person: 'toolong' }).person).toBe('initials are two to four letters, for example MO');
  });

  test('every state, regimen and rule is found by its whole name and by its id', () => {
    for (const { id, title } of DEVIATION_RULES)
      for (const deviation of [id, title]) expect(filterOf({ deviation })).toStrictEqual({ deviation: id });
    for (const state of STATES) expect(filterOf({ state })).toStrictEqual({ state });
    for (const { id, name } of REGIMENS)
      for (const regimen of [id, name]) expect(filterOf({ regimen })).toStrictEqual({ regimenId: id });
  });

  test('comes back from its own words as the same filter, whatever is combined', () => {
    const day = fc.integer({ min: 0, max: 9_000 }).map((days) => local(2010, 0, 1 + days));
    const asked = fc.record(
      {
        span: fc.tuple(day, day).map(([one, two]) => [Math.min(one, two), Math.max(one, two)] as const),
        patientCode: fc.stringMatching(/^[A-Z]-[0-9]{1,5}$/),
        lot: fc.stringMatching(/^[A-Z][0-9]{4}$/),
        regimenId: fc.constantFrom(...REGIMENS.map(({ id }) => id)),
        eye: fc.constantFrom('right', 'left'),
        person: fc.constantFrom('MO', 'TK'),
        state: fc.constantFrom(...STATES),
        deviation: fc.constantFrom('any', ...DEVIATION_RULES.map(({ id }) => id)),
        practice: fc.constantFrom('real', 'practice'),
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(asked, ({ span, ...rest }) => {
        const days = span && { fromWallMs: span[0], toWallMs: nextDay(span[1]) };
        const filter = findFilterSchema.parse({ ...rest, ...days });
        expect(filterOf(typedOf(filter, NAMES))).toStrictEqual(filter);
        expect(filterWords(filter, NAMES)).toHaveLength(Object.keys(rest).length + (span === undefined ? 0 : 1));
      }),
    );
  });

  test('every field has a key of its own, none of which is a number', () => {
    const keys = filterFields({}, NAMES).map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys.filter((key) => !/^[a-z]$/.test(key))).toStrictEqual([]);
  });
});

const nextDay = (dayMs: number): number => {
  const day = new Date(dayMs);
  return local(day.getFullYear(), day.getMonth(), day.getDate() + 1);
};

describe('the usual questions', () => {
  const [lateLastMonth, , , lastWeek] = QUICK_CHOICES;

  test('last month is the calendar month before, over the end of a year too', () => {
    expect(lateLastMonth?.filter(new Date(2026, 0, 31, 23, 59).getTime())).toStrictEqual({
      fromWallMs: local(2025, 11, 1),
      toWallMs: local(2026, 0, 1),
      deviation: 'light-late',
    });
  });

  test('the last seven days end with today', () => {
    expect(lastWeek?.filter(new Date(2026, 2, 3, 14).getTime())).toStrictEqual({
      fromWallMs: local(2026, 1, 25),
      toWallMs: local(2026, 2, 4),
    });
  });
});
