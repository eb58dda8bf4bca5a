import type { Language } from '../../core/settings/language.ts';
import { type Phrasebook, phrasebook } from '../../core/words/phrasebook.ts';
import { CATALOGS } from './catalogs.ts';

export interface Said {
  readonly text: string;
  /** Whether it is in the language asked for: an English sentence is better than none. */
  readonly known: boolean;
}

/** An English text in the reader's language, with the spaces around it kept; as it is where there is no translation. */
export function said(text: string, language: Language): Said {
  const words = text.trim();
  if (language === 'en' || words === '') return { text, known: true };
  const { find, kept } = bookIn(language);
  const known = kept.get(text);
  if (known !== undefined) return known;
  const found = find(words);
  const one = found === null ? { text, known: false } : { text: text.replace(words, () => found), known: true };
  keep(kept, text, one);
  return one;
}

export const say = (text: string, language: Language): string => said(text, language).text;

interface Book {
  readonly find: Phrasebook;
  readonly kept: Map<string, Said>;
}

const books = new Map<Language, Book>();

/** Made when a language is first spoken. */
function bookIn(language: Exclude<Language, 'en'>): Book {
  const book = books.get(language) ?? { find: phrasebook(CATALOGS[language], language), kept: new Map() };
  books.set(language, book);
  return book;
}

/** Counts bring a new text every second: what was said longest ago is forgotten. */
const KEPT_AT_MOST = 2_000;

function keep(kept: Map<string, Said>, text: string, one: Said): void {
  kept.set(text, one);
  if (kept.size <= KEPT_AT_MOST) return;
  const [oldest] = kept.keys();
  if (oldest !== undefined) kept.delete(oldest);
}
