import type { Language } from '../settings/language.ts';
import type { AfterCareWords, Filling, SentenceId } from './sentences.ts';
import { DE } from './words/de.ts';
import { EN } from './words/en.ts';
import { ES } from './words/es.ts';
import { FR } from './words/fr.ts';

/** Every language's words. A native speaker and the clinic read a language through before its first patient gets it. */
export const AFTER_CARE_WORDS = { en: EN, de: DE, es: ES, fr: FR } as const satisfies Record<Language, AfterCareWords>;

/** A sentence in a language, with what belongs into it. */
export function say<Id extends SentenceId>(language: Language, id: Id, filling: Filling<Id>): string {
  const values = new Map<string, string>(Object.entries(filling));
  return AFTER_CARE_WORDS[language][id].replace(/\{(\w+)\}/g, (whole, name: string) => values.get(name) ?? whole);
}

/** A language by its own name, as a patient knows it. */
export const LANGUAGE_NAMES = {
  en: 'English',
  de: 'Deutsch',
  es: 'español',
  fr: 'français',
} as const satisfies Record<Language, string>;
