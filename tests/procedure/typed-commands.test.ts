import { describe, expect, test } from 'vitest';
import { commandSchema } from '../../core/procedure/commands.ts';
import { commandOf, orderOf, RIGHT } from '../session-steps.ts';

/** What a command that was typed wrongly is told; nothing where it is well formed. */
function faultsOf(command: object): string[] {
  const read = commandSchema.safeParse(command);
  return read.success ? [] : read.error.issues.map(({ message }) => message);
}

describe('a day', () => {
  const born = (birthDate: string) => faultsOf({ ...commandOf('identify'), birthDate });
  const HOW = 'write the date as year-month-day, for example 1951-03-02';
  const NONE = 'that day is not in the calendar';

  test.each(['1951-03-02', '1952-02-29', '2000-12-31'])('%s is one', (day) => {
    expect(born(day)).toEqual([]);
  });

  test.each([
    ['1951-02-29', [NONE]],
    ['1951-13-01', [NONE]],
    ['1951-04-31', [NONE]],
    ['1951-3-2', [HOW, NONE]],
    ['02.03.1951', [HOW, NONE]],
    ['born 1951-03-02', [HOW, NONE]],
    ['1951-03-02 or so', [HOW, NONE]],
  ])('%s is none', (day, says) => {
    expect(says).toEqual(expect.arrayContaining(born(day)));
    expect(born(day)).not.toEqual([]);
  });
});

describe('lesions', () => {
  const ordered = (...lesions: object[]) => faultsOf({ ...orderOf([RIGHT]), lesions });

  test('are each of another eye, one or two of them', () => {
    expect(ordered(RIGHT, { eye: 'left', gldUm: 1850 })).toEqual([]);
    expect(ordered(RIGHT, { eye: 'left', imageMm: 7.5, cameraMagnification: 2.5 })).toEqual([]);
    expect(ordered(RIGHT, RIGHT)).toEqual(['the same eye is named twice']);
    expect(ordered()).toEqual(['name at least one eye']);
  });

  test('that are out of range say the range', () => {
    expect(ordered({ eye: 'right', gldUm: 99 })).toEqual(['greatest linear dimension is 100 to 12000 um']);
    expect(ordered({ ...RIGHT, discDistanceUm: -1 })).toEqual(['distance to the disc is 0 to 20000 um']);
  });

  test('that fit neither way of measuring name the field that the first way lacks', () => {
    expect(ordered({ eye: 'right' })).toEqual(['gldUm: Invalid input: expected number, received undefined']);
    expect(ordered({ eye: 'right', gldUm: 'wide' })).toEqual([
      'gldUm: Invalid input: expected number, received string',
    ]);
  });

  test('that are nothing of the kind have no field to name', () => {
    expect(faultsOf({ ...orderOf([RIGHT]), lesions: ['right'] })).toEqual([
      'Invalid input: expected object, received string',
    ]);
  });
});
