import type { Language } from '../settings/language.ts';
import { inZone } from '../time/in-zone.ts';

/** A moment in a patient's words: `Saturday 8 March 2031` and `14:20 (2:20 pm)`. */
export interface WhenWords {
  readonly day: string;
  readonly time: string;
}

/** Local day and time of an instant in a zone, by its IANA name, as the language writes them. */
export function whenWords(wallMs: number, zone: string, language: Language): WhenWords {
  const { date, time } = inZone(wallMs, zone);
  return { day: dayWords(date, language), time: TWELVE_HOURS.includes(language) ? bothWays(time) : time };
}

/** A date (`2031-03-08`) with its weekday, month in letters: days and months cannot be taken for one another. */
export const dayWords = (date: string, language: Language): string =>
  written(date, language, { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' });

/** The same without its weekday, for a date of birth. */
export const birthWords = (date: string, language: Language): string =>
  written(date, language, { day: 'numeric', month: 'long', year: 'numeric' });

const LOCALES = { en: 'en-GB', de: 'de', es: 'es', fr: 'fr' } as const satisfies Record<Language, string>;

/** Where the language is spoken, many read a time of 24 hours only with its twelve-hour form beside it. */
const TWELVE_HOURS: readonly Language[] = ['en'];

/** A date is the same in every zone: it is written as it is in UTC. */
const written = (date: string, language: Language, how: Intl.DateTimeFormatOptions): string =>
  new Intl.DateTimeFormat(LOCALES[language], { ...how, timeZone: 'UTC' })
    .formatToParts(Date.parse(`${date}T00:00:00Z`))
    .map(({ type, value }) => (type === 'day' && value === '1' ? (FIRST_OF_MONTH[language] ?? value) : value))
    .join('');

/** The one day that is written as an ordinal. Common usage in French; from memory. */
const FIRST_OF_MONTH: Partial<Record<Language, string>> = { fr: '1er' };

/** `10:20 am`, but `14:20 (2:20 pm)`. */
function bothWays(time: string): string {
  const [hour = 0, minute = 0] = time.split(':').map(Number);
  if (minute === 0 && hour === 12) return `${time} noon`;
  if (minute === 0 && hour === 0) return `${time} (midnight, as this day begins)`;
  const half = hour < 12 ? 'am' : 'pm';
  return hour >= 1 && hour <= 12
    ? `${time} ${half}`
    : `${time} (${hour % 12 || 12}:${String(minute).padStart(2, '0')} ${half})`;
}
