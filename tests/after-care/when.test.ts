import { describe, expect, test } from 'vitest';
import { birthWords, dayWords, whenWords } from '../../core/after-care/when.ts';
import { LANGUAGES } from '../../core/settings/language.ts';

const at = (hour: number, minute: number): number => Date.UTC(2031, 2, 8, hour, minute);

describe('a moment in a patient’s words', () => {
  test.each([
    ['en', 'Saturday, 8 March 2031', '14:20 (2:20 pm)'],
    ['de', 'Samstag, 8. März 2031', '14:20'],
    ['es', 'sábado, 8 de marzo de 2031', '14:20'],
    ['fr', 'samedi 8 mars 2031', '14:20'],
  ] as const)('is written in %s as it is written there', (language, day, time) => {
    expect(whenWords(at(14, 20), 'UTC', language)).toEqual({ day, time });
  });

  test.each([
    [0, 0, '00:00 (midnight, as this day begins)'],
    [0, 5, '00:05 (12:05 am)'],
    [1, 0, '01:00 am'],
    [9, 59, '09:59 am'],
    [12, 0, '12:00 noon'],
    [12, 1, '12:01 pm'],
    [13, 0, '13:00 (1:00 pm)'],
    [23, 59, '23:59 (11:59 pm)'],
  ])('at %d:%d is read in one way by those used to twelve hours', (hour, minute, words) => {
    expect(whenWords(at(hour, minute), 'UTC', 'en').time).toBe(words);
  });

  test('has the weekday of its date, whatever zone it is read in', () => {
    expect(whenWords(at(23, 30), 'Pacific/Auckland', 'en').day).toBe('Sunday, 9 March 2031');
    expect(whenWords(at(2, 0), 'America/New_York', 'en').day).toBe('Friday, 7 March 2031');
  });
});

test('dates have their month in letters in every language: day and month are not taken for one another', () => {
  for (const language of LANGUAGES) {
    expect(birthWords('1951-03-02', language)).toMatch(/^2\.? (de )?(March|März|marzo|mars) (de )?1951$/);
    expect(dayWords('2031-12-01', language)).toMatch(/\b1(?:\.|er)? (de )?(December|Dezember|diciembre|décembre)/);
    expect(birthWords('1951-03-01', language).startsWith('1er ')).toBe(language === 'fr');
  }
});
