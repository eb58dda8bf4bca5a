import { describe, expect, test } from 'vitest';
import { AFTER_CARE_WORDS, say } from '../../core/after-care/say.ts';
import { SENTENCES, type SentenceId } from '../../core/after-care/sentences.ts';
import { LANGUAGES, type Language } from '../../core/settings/language.ts';

const IDS = Object.keys(SENTENCES) as SentenceId[];
const OTHERS = LANGUAGES.filter((language) => language !== 'en');
const placeholdersIn = (words: string): string[] => [...words.matchAll(/\{([^}]*)\}/g)].map(([, name]) => name ?? '');

describe.each(LANGUAGES)('the patient’s words in %s', (language) => {
  const words = AFTER_CARE_WORDS[language];

  test('are all there, and no others', () => {
    expect(Object.keys(words).toSorted()).toEqual(IDS.toSorted());
  });

  test.each(IDS)('%s says something', (id) => {
    expect(words[id]).toMatch(/\p{L}|\{/u);
    expect(words[id]).toBe(words[id].trim());
  });

  test.each(IDS)('%s holds each figure once, as in every language', (id) => {
    expect(placeholdersIn(words[id]).toSorted()).toEqual([...SENTENCES[id].holds].toSorted());
  });

  test.each(IDS)('%s is a whole sentence, a heading or a line to write on, and not a part of one', (id) => {
    const isSentence = /^[\p{Lu}{¿]/u.test(words[id]);
    expect(isSentence).toBe(true);
    if (id.endsWith('-title') || ['title', 'practice', 'patient', 'until'].includes(id)) {
      expect(words[id]).not.toMatch(/[.:]$/);
    } else {
      expect(words[id]).toMatch(/[.:]$/);
    }
  });

  test('are set in letters that the type has', () => {
    // The type is the Latin one of Western Europe.
    expect(Object.values(words).join('')).toMatch(/^[\u0020-\u007e\u00a0-\u00ffŒœ‘’“”–—…]*$/u);
  });
});

test.each(OTHERS)('no sentence in %s is left in English', (language) => {
  const same = IDS.filter((id) => AFTER_CARE_WORDS[language][id] === AFTER_CARE_WORDS.en[id]);
  expect(same).toEqual([]);
});

test.each(LANGUAGES)('in %s, nothing is left to be filled in once it is said', (language: Language) => {
  const filling = { code: 'K-2041', born: 'a day', day: 'a day', time: '10:20', hours: '120', productHours: '48' };
  for (const id of IDS) expect(say(language, id, filling)).not.toMatch(/[{}]/);
});

test('what is filled in is said as it is, whatever signs are in it', () => {
  expect(say('en', 'patient', { code: '$1{born}$&', born: '$`' })).toBe('$1{born}$&, born $`');
});

test('every figure and every advice has its source', () => {
  const advice: SentenceId[] = IDS.filter((id) => !id.endsWith('-title') && SENTENCES[id].source === null);
  // Whose sheet it is, what was done here, and lines to write on say nothing of the trade.
  expect(advice).toEqual([
    'title',
    'practice',
    'patient',
    'given',
    'light-right',
    'light-left',
    'light-both',
    'until',
    'phone',
    'review',
    'review-open',
    'doctor-first',
    'band-phone',
  ]);
});

describe('a reader of twelve', () => {
  // Short sentences are common advice for plain words; the figure has no source.
  const MOST_WORDS = 22;

  test.each(LANGUAGES)('meets no long sentence in %s', (language) => {
    const sentences = Object.values(AFTER_CARE_WORDS[language]).flatMap((words) => words.split(/(?<=[.:])\s+/));
    const long = sentences.filter((sentence) => sentence.split(/\s+/).length > MOST_WORDS);
    expect(long).toEqual([]);
  });
});
