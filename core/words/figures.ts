import type { Language } from '../settings/language.ts';

/** A figure, time of day, count-down or calendar day, as English screens write it; not within a word or a code. */
export const FIGURE = String.raw`(?<![\p{L}\d.,:_-])[+−]?(?:\d{4}-\d{2}-\d{2}|\d+(?:[.:]\d+)*)(?![\p{L}\d]|-\d)`;

const FIGURES = new RegExp(FIGURE, 'gu');

/** Every figure in a text, with its place. */
export function figuresIn(text: string): { readonly figure: string; readonly at: number }[] {
  return [...text.matchAll(FIGURES)].map((match) => ({ figure: match[0], at: match.index }));
}

/** The text with other words in the place of each figure. */
export const withFigures = (text: string, to: (figure: string, at: number) => string): string =>
  text.replace(FIGURES, (figure: string, at: number) => to(figure, at));

/**
 * A figure as the reader writes it: decimal comma, and days in the usual order (25.11.2026, 25/11/2026). English keeps
 * the year first, which is read one way only. Times of day and counts have a colon everywhere.
 */
export function figureFor(figure: string, language: Language): string {
  if (language === 'en' || figure.includes(':')) return figure;
  const day = /^(\d{4})-(\d{2})-(\d{2})$/.exec(figure);
  if (day === null) return figure.replace('.', ',');
  return [day[3], day[2], day[1]].join(DAY_PARTED_BY[language]);
}

const DAY_PARTED_BY: Record<Exclude<Language, 'en'>, string> = { de: '.', es: '/', fr: '/' };

/** Symbols of units, and other signs that are the same in every language. */
const SYMBOLS = [
  ...['mg/m²', 'mW/cm²', 'J/cm²', 'mL/min', 'mL/h', 'mg', 'mL', 'min', 'mW', 'cm²', 'm²', 'cm', 'mm', 'µm', 'kg', 'lb'],
  'ft in',
];
const SYMBOL = new RegExp(String.raw`(?<!\p{L})(?:${SYMBOLS.join('|')})(?![\p{L}\d])`, 'gu');

/** Whether a text has nothing in it that could be translated: figures, units, signs and single letters alone. */
export function isWordless(text: string): boolean {
  return !/\p{L}{2}/u.test(withFigures(text, () => '').replace(SYMBOL, ''));
}
