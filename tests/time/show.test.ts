import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calendarDate, clockTime, isoTime, minutesSeconds, recordTime } from '../../core/time/show.ts';

const AT_MS = Date.UTC(2026, 2, 2, 13, 7, 22, 900);

describe('a span in minutes and seconds', () => {
  test.each([
    [900_000, '15:00', false],
    [899_999, '15:00', false],
    [899_000, '14:59', false],
    [60_001, '1:01', false],
    [60_000, '1:00', false],
    [59_999, '1:00', false],
    [59_000, '0:59', false],
    [1, '0:01', false],
    [0, '0:00', false],
    [-1, '0:00', true],
    [-999, '0:00', true],
    [-1000, '0:01', true],
    [-59_999, '0:59', true],
    [-60_000, '1:00', true],
    [-754_000, '12:34', true],
    [7_265_000, '121:05', false],
  ])('%d ms left reads %s, over: %s', (leftMs, text, over) => {
    expect(minutesSeconds(leftMs)).toMatchObject({ text, over });
  });

  test('0:00 means done: as long as any time is left it reads at least a second', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 36_000_000, noNaN: true }), (leftMs) => {
        const { over, minutes, seconds } = minutesSeconds(leftMs);
        expect(over).toBe(false);
        expect(minutes * 60 + seconds).toBe(Math.ceil(leftMs / 1000));
        expect(minutes * 60 + seconds).toBeGreaterThan(0);
      }),
    );
  });

  test('once over it counts whole seconds that have passed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 36_000_000 }), (pastMs) => {
        const { over, minutes, seconds, text } = minutesSeconds(-pastMs);
        expect(over).toBe(true);
        expect(minutes * 60 + seconds).toBe(Math.floor(pastMs / 1000));
        expect(seconds).toBeLessThan(60);
        expect(text).toMatch(/^\d+:[0-5]\d$/);
      }),
    );
  });
});

describe('wall time', () => {
  test('as other programs read it is the same instant to the millisecond, and says the local time', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4e12 }), fc.integer({ min: -900, max: 900 }), (wallMs, offsetMin) => {
        const text = isoTime(wallMs, offsetMin);
        expect(Date.parse(text)).toBe(wallMs);
        expect(text.slice(11, 19)).toBe(clockTime(wallMs, offsetMin, true));
      }),
    );
  });

  test.each([
    [0, '13:07', '13:07:22', '2026-03-02', '2026-03-02 13:07:22 +00:00'],
    [60, '14:07', '14:07:22', '2026-03-02', '2026-03-02 14:07:22 +01:00'],
    [345, '18:52', '18:52:22', '2026-03-02', '2026-03-02 18:52:22 +05:45'],
    [-210, '09:37', '09:37:22', '2026-03-02', '2026-03-02 09:37:22 -03:30'],
    [-30, '12:37', '12:37:22', '2026-03-02', '2026-03-02 12:37:22 -00:30'],
    [840, '03:07', '03:07:22', '2026-03-03', '2026-03-03 03:07:22 +14:00'],
    [-720, '01:07', '01:07:22', '2026-03-02', '2026-03-02 01:07:22 -12:00'],
    [-840, '23:07', '23:07:22', '2026-03-01', '2026-03-01 23:07:22 -14:00'],
  ])('%d min from UTC reads %s', (offsetMin, short, long, date, record) => {
    expect(clockTime(AT_MS, offsetMin)).toBe(short);
    expect(clockTime(AT_MS, offsetMin, true)).toBe(long);
    expect(calendarDate(AT_MS, offsetMin)).toBe(date);
    expect(recordTime(AT_MS, offsetMin)).toBe(record);
  });

  test('is never rounded up into a second that has not come', () => {
    expect(clockTime(Date.UTC(2026, 2, 2, 23, 59, 59, 999), 0, true)).toBe('23:59:59');
    expect(calendarDate(Date.UTC(2026, 2, 2, 23, 59, 59, 999), 0)).toBe('2026-03-02');
  });

  test('what the record says, with its offset, is the same instant read back', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 4_000_000_000 }),
        fc.integer({ min: -840, max: 840 }),
        (seconds, offsetMin) => {
          const [date, time, zone] = recordTime(seconds * 1000, offsetMin).split(' ');
          expect(Date.parse(`${date}T${time}${zone}`)).toBe(seconds * 1000);
        },
      ),
    );
  });
});
