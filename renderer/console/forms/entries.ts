import { readDecimal } from '../../../core/dosing/body-entry.ts';
import type { Language } from '../../../core/settings/language.ts';
import type { Errors } from '../../parts/field.ts';

interface Range {
  readonly min: number;
  readonly max: number;
}

/** Collects the figures of a form as they are read, and what is wrong with those that cannot be. */
export function figureReader() {
  const errors: Record<string, string> = {};
  return {
    errors: errors as Errors,
    /** The figure typed into a field; NaN, with a sentence for the field, where it is none. */
    figure(field: string, typed: string | undefined, what: string, range: Range, unit = ''): number {
      const read = readDecimal(typed ?? '', what);
      if (!read.ok) errors[field] = lowerFirst(read.says);
      else if (read.value < range.min || read.value > range.max) {
        errors[field] = `${what} is ${range.min} to ${range.max} ${unit}`.trim();
      } else return read.value;
      return Number.NaN;
    },
    /** A figure that was read elsewhere. */
    read(field: string, read: { ok: true; value: number } | { ok: false; says: string }): number {
      if (read.ok) return read.value;
      errors[field] = lowerFirst(read.says);
      return Number.NaN;
    },
    wrong(field: string, says: string): void {
      errors[field] = says;
    },
  };
}

export const lowerFirst = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1);

/**
 * A day as typed: `1951-03-02` or `19510302` in every language. Day first with points, `2.3.1951`, is read one way only,
 * and taken everywhere; with strokes, `2/3/1951`, it is not, and taken where the site's language writes days so. With
 * `month`, `2027-03` or `3.2027` is its last day, as vials print it.
 */
export function readDay(typed: string, { month = false, language = 'en' }: DayReading = {}): string {
  const text = yearFirst(typed.trim(), language === 'en' ? /^\.$/ : /^[./]$/).replace(/[./\s]/g, '-');
  const whole = /^(\d{4})-?(\d{2})-?(\d{2})$/.exec(text);
  if (whole !== null) return `${whole[1]}-${whole[2]}-${whole[3]}`;
  const part = /^(\d{4})-?(0[1-9]|1[0-2])$/.exec(text);
  if (part === null || !month) return text;
  const last = new Date(Date.UTC(Number(part[1]), Number(part[2]), 0));
  return last.toISOString().slice(0, 10);
}

interface DayReading {
  readonly month?: boolean;
  readonly language?: Language;
}

/** The same with the year in front, where the parts are parted by a sign that says that the day, or month, was. */
function yearFirst(text: string, sign: RegExp): string {
  const parts = /^(?:(\d{1,2})([./]))?(\d{1,2})([./])(\d{4})$/.exec(text);
  if (parts === null) return text;
  const [, day, dayBy = '.', monthPart = '', monthBy = '', year] = parts;
  if (!sign.test(dayBy) || !sign.test(monthBy)) return text;
  return [year, monthPart, ...(day === undefined ? [] : [day])].map((part) => part?.padStart(2, '0')).join('-');
}
