import { describe, expect, test } from 'vitest';
import { KEYS } from '../../core/keys/key-table.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { readDay } from '../../renderer/console/forms/entries.ts';
import { FORMS } from '../../renderer/console/forms/forms.ts';
import { pressOf } from '../../renderer/console/keys.ts';

const pressed = (key: string, code: string, shiftKey = false) => pressOf({ key, code, shiftKey });
const wordsOf = (press: ReturnType<typeof pressOf>) =>
  press !== null && 'binding' in press ? press.binding.words : press;

describe('the table of keys', () => {
  test('no two keys are the same', () => {
    const names = KEYS.map(({ key, shift }) => `${key} ${shift ?? false}`);
    expect(new Set(names).size).toBe(names.length);
  });

  test('the row of digits counts by its place, whatever it writes', () => {
    expect(pressed('1', 'Digit1')).toEqual({ task: 1, takeBack: false });
    expect(pressed('&', 'Digit1')).toEqual({ task: 1, takeBack: false });
    expect(pressed('"', 'Digit2', true)).toEqual({ task: 2, takeBack: true });
    expect(pressed('3', 'Numpad3')).toEqual({ task: 3, takeBack: false });
    expect(pressed('0', 'Digit0')).toBeNull();
  });

  test('a letter counts by what is printed on it, with caps lock too', () => {
    expect(wordsOf(pressed('h', 'KeyH'))).toBe('hold the infusion');
    expect(wordsOf(pressed('H', 'KeyH'))).toBe('hold the infusion');
    expect(wordsOf(pressed('O', 'KeyO', true))).toBe('open another session');
    expect(pressed('H', 'KeyH', true)).toBeNull();
    expect(wordsOf(pressed('?', 'Minus', true))).toBe('keys');
  });
});

describe('a time of reconstitution', () => {
  // 2031-03-03 00:20:30 local time, an hour ahead of UTC.
  const at = {
    view: null,
    settings: DEFAULT_SETTINGS,
    regimens: REGIMENS,
    whoMay: { kind: 'as typed' as const },
    wallMs: Date.UTC(2031, 2, 2, 23, 20, 30),
    offsetMin: 60,
    eye: null,
    item: null,
    overriding: false,
    going: null,
  };
  const agoS = (reconstituted: string) => {
    const read = FORMS.prepare.read({ reconstituted }, at);
    if (!read.ok) return read.errors.reconstituted;
    return (
      read.asked.kind === 'command' && read.asked.command.kind === 'prepare' && read.asked.command.reconstitutedAgoS
    );
  };

  test('counts from the beginning of the minute, so that the drug is never taken for younger than it is', () => {
    expect(agoS('00:20')).toBe(30);
    expect(agoS('0.05')).toBe(15 * 60 + 30);
  });

  test('before midnight was yesterday', () => {
    expect(agoS('2350')).toBe(30 * 60 + 30);
  });

  test('that lies ahead, or is none, is refused in words', () => {
    expect(agoS('00:25')).toBe('that lies ahead: enter when it was reconstituted');
    expect(agoS('25:00')).toBe('write the time as hour:minute, for example 13:48');
    expect(agoS('')).toBe('write the time as hour:minute, for example 13:48');
  });
});

describe('a day as typed', () => {
  test('may be written without its dashes', () => {
    expect(readDay('19510302')).toBe('1951-03-02');
    expect(readDay(' 1951.03.02 ')).toBe('1951-03-02');
  });

  test('a month on a vial is its last day, and nowhere else a day', () => {
    expect(readDay('2028-02', { month: true })).toBe('2028-02-29');
    expect(readDay('202712', { month: true })).toBe('2027-12-31');
    expect(readDay('2028-02')).toBe('2028-02');
  });
});
