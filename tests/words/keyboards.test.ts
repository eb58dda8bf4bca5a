import { describe, expect, test } from 'vitest';
import { KEYS } from '../../core/keys/key-table.ts';
import { pressOf } from '../../renderer/console/keys.ts';
import { numberKey } from '../../renderer/parts/number-key.ts';

/** A key of a keyboard, by its place: what it writes, and what it writes with Shift. */
type Layout = Readonly<Record<string, readonly [plain: string, shifted: string]>>;

const DIGIT_ROW = ['Digit1', 'Digit2', 'Digit3', 'Digit4', 'Digit5', 'Digit6', 'Digit7', 'Digit8', 'Digit9', 'Digit0'];

const digits = (plain: string, shifted: string): Layout =>
  Object.fromEntries(DIGIT_ROW.map((code, index) => [code, [plain[index] ?? '', shifted[index] ?? '']]));

/** Letters by place, where they are not on the place that has their name. */
const letters = (moved: Readonly<Record<string, string>>): Layout =>
  Object.fromEntries(
    [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].map((place) => {
      const letter = moved[place] ?? place;
      return [`Key${place}`, [letter.toLowerCase(), letter.toUpperCase()]];
    }),
  );

/** By heart, of the usual keyboards of each country; signs that a key of the console may need are all there. */
const LAYOUTS: Readonly<Record<string, Layout>> = {
  'QWERTY, United States': {
    ...letters({}),
    ...digits('1234567890', '!@#$%^&*()'),
    ...{ Minus: ['-', '_'], Equal: ['=', '+'], Slash: ['/', '?'], Comma: [',', '<'], Period: ['.', '>'] },
  },
  'QWERTZ, German': {
    ...letters({ Y: 'Z', Z: 'Y' }),
    ...digits('1234567890', '!"§$%&/()='),
    ...{ Minus: ['ß', '?'], Slash: ['-', '_'], BracketRight: ['+', '*'], Comma: [',', ';'], Period: ['.', ':'] },
  },
  'QWERTZ, Swiss': {
    ...letters({ Y: 'Z', Z: 'Y' }),
    ...digits('1234567890', '+"*ç%&/()='),
    ...{ Minus: ["'", '?'], Slash: ['-', '_'], Comma: [',', ';'], Period: ['.', ':'] },
  },
  'AZERTY, French': {
    ...letters({ Q: 'A', A: 'Q', W: 'Z', Z: 'W' }),
    KeyM: [',', '?'],
    Semicolon: ['m', 'M'],
    ...digits('&é"\'(-è_çà', '1234567890'),
    ...{ Minus: [')', '°'], Equal: ['=', '+'], Comma: [';', '.'], Period: [':', '/'], Slash: ['!', '§'] },
  },
  'QWERTY, Spanish': {
    ...letters({}),
    ...digits('1234567890', '!"·$%&/()='),
    ...{ Minus: ["'", '?'], BracketRight: ['+', '*'], Slash: ['-', '_'], Comma: [',', ';'], Period: ['.', ':'] },
  },
};

const pressesOn = (layout: Layout) =>
  Object.entries(layout).flatMap(([code, [plain, shifted]]) => [
    { code, key: plain, shiftKey: false },
    { code, key: shifted, shiftKey: true },
  ]);

describe.each(Object.entries(LAYOUTS))('on a keyboard of %s', (_name, layout) => {
  const presses = pressesOn(layout);
  const done = presses.flatMap((press) => {
    const means = pressOf(press);
    return means !== null && 'binding' in means ? [means.binding] : [];
  });

  test('whatever a key of the console does can be done', () => {
    const doings = new Set(done.map(({ doing }) => JSON.stringify(doing)));
    const lacking = KEYS.filter(({ doing }) => !doings.has(JSON.stringify(doing))).map(
      ({ cap, words }) => `${cap} ${words}`,
    );
    expect(lacking).toEqual([]);
  });

  test('the list of keys is asked for by ?', () => {
    const asks = presses.filter(({ key }) => key === '?').map(pressOf);
    expect(asks.map((press) => press !== null && 'binding' in press && press.binding.doing.does)).toEqual(['keys']);
  });

  test('letters are those that are written, wherever they lie', () => {
    const binding = (letter: string) => presses.filter(({ key }) => key === letter).map(pressOf)[0];
    expect(binding('y')).toMatchObject({ binding: { doing: { does: 'swap displays' } } });
    expect(binding('m')).toMatchObject({ binding: { doing: { form: 'beam-set-back' } } });
    expect(binding('w')).toMatchObject({ binding: { doing: { form: 'hands' } } });
  });

  test('the row of digits is tasks by its place, and with Shift takes them back', () => {
    const row = DIGIT_ROW.slice(0, 9).map((code) => layout[code] ?? ['', '']);
    row.forEach(([plain, shifted], index) => {
      const code = DIGIT_ROW[index] ?? '';
      expect(pressOf({ code, key: plain, shiftKey: false })).toEqual({ task: index + 1, takeBack: false });
      expect(pressOf({ code, key: shifted, shiftKey: true })).toEqual({ task: index + 1, takeBack: true });
    });
  });

  test('in a form a choice is made by the row of digits without Shift', () => {
    const chosen = DIGIT_ROW.slice(0, 9).map((code) =>
      numberKey({ code, key: layout[code]?.[0] ?? '', shiftKey: false }),
    );
    expect(chosen).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9]);
  });
});

test('a digit of the number block is its number, a sign above a digit is not', () => {
  expect(numberKey({ code: 'Numpad4', key: '4', shiftKey: false })).toBe(4);
  expect(numberKey({ code: 'Digit1', key: '1', shiftKey: true })).toBe(1);
  expect(numberKey({ code: 'Digit1', key: '!', shiftKey: true })).toBeNull();
  expect(numberKey({ code: 'Digit0', key: 'à', shiftKey: false })).toBeNull();
});
