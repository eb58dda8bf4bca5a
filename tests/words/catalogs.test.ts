import { describe, expect, test } from 'vitest';
import sentences from '../../assets/words/en.json';
import { isWordless } from '../../core/words/figures.ts';
import { phrasebook } from '../../core/words/phrasebook.ts';
import { holesIn, isHole, partsOf } from '../../core/words/template.ts';
import { CATALOGS } from '../../renderer/words/catalogs.ts';
import { cardWords } from './card-words.ts';
import { COMPOSED } from './composed-words.ts';
import { instancesOf } from './instances.ts';
import { NOT_READ } from './not-read.ts';
import { shownWords } from './shown-words.ts';
import { writtenIn } from './written-words.ts';

/** What console, board and rooms draw, or are given to draw, in words, and what hangs on the wall beside them. */
const SCREENS = [
  ...['renderer/board', 'renderer/console', 'renderer/cues', 'renderer/guide', 'renderer/link', 'renderer/parts'],
  ...['core/keys', 'core/procedure', 'core/dosing/body-entry.ts', 'core/dosing/plan.ts', 'core/light/read-back.ts'],
  ...['core/legibility/digit-size.ts', 'core/regimen/regimens.ts', 'core/people', 'core/practice'],
  ...['renderer/people', 'renderer/settings', 'renderer/ledger/room/row-keys.ts', 'core/settings/explained.ts'],
  ...['core/settings/explained-limits.ts', 'core/settings/explanation.ts', 'core/settings/allowed.ts'],
  ...['core/settings/cautions.ts', 'core/settings/profile-texts.ts', 'core/report/quick-card.ts'],
];
/** From where more may come, in an answer or a notice. */
const ANSWERING = ['core/dosing', 'core/ledger/deviations', 'electron/station', 'electron/carrier'];
/** What the library that reads commands says by itself. */
const OF_THE_READER = ['Too big: expected string to have <={} characters'];

/** Not words of a screen: what a form says of an entry that no form makes. */
const NEVER_SHOWN = /^(?:Invalid|Unrecognized)/;

const shown = [...shownWords(), ...COMPOSED, ...cardWords()]
  .map((text) => text.trim())
  .filter((text) => !NEVER_SHOWN.test(text) && /\p{L}{2}/u.test(text));
const written = writtenIn(SCREENS);
const inEnglish = Object.fromEntries(sentences.map((sentence) => [sentence, sentence]));

describe('the list of English sentences', () => {
  test('has everything that a session, a form or a key is given to say', () => {
    const find = phrasebook(inEnglish, 'de');
    expect(shown.length).toBeGreaterThan(800);
    expect(shown.filter((text) => find(text) === null)).toEqual([]);
  });

  test('has everything that the screens say of their own', () => {
    const find = phrasebook(inEnglish, 'de');
    const known = [...sentences, ...shown];
    const missing = written.filter(
      (one) =>
        !NOT_READ.includes(one.text.trim()) && find(one.text.trim()) === null && instancesOf(one, known).length === 0,
    );
    expect(missing).toEqual([]);
  });

  test('has nothing that nobody says any more', () => {
    const used = new Set<string>();
    const find = phrasebook(inEnglish, 'de', (key) => used.add(key));
    const texts = [...written, ...writtenIn(ANSWERING)].map(({ text }) => text);
    for (const text of [...shown, ...texts.map((one) => one.trim())]) find(text);
    for (const text of [...texts, ...OF_THE_READER]) for (const key of instancesOf({ text }, sentences)) used.add(key);
    expect(sentences.filter((sentence) => !used.has(sentence))).toEqual([]);
  });

  test('has each once, in order, and none without words', () => {
    expect([...new Set(sentences)].length).toBe(sentences.length);
    expect(sentences).toEqual([...sentences].sort((one, other) => order(one, other)));
    expect(sentences.filter((sentence) => isWordless(sentence) && !partsOf(sentence).some(isHole))).toEqual([]);
  });
});

const UNIT = /(?<!\p{L})(?:mg\/m²|mW\/cm²|J\/cm²|mL\/min|mL\/h|mg|mL|mW|cm²|m²|cm|µm|nm|kg|lb)(?![\p{L}\d])/gu;

const order = (one: string, other: string): number => {
  const [first, second] = [one.toLowerCase(), other.toLowerCase()];
  return first < second ? -1 : first > second ? 1 : one < other ? -1 : 1;
};

describe.each(Object.entries(CATALOGS))('the catalog of %s', (_language, catalog) => {
  test('has every sentence', () => {
    expect(sentences.filter((sentence) => !Object.hasOwn(catalog, sentence))).toEqual([]);
  });

  test('has no sentence that English has not', () => {
    expect(Object.keys(catalog).filter((sentence) => !sentences.includes(sentence))).toEqual([]);
  });

  test('says something for each', () => {
    expect(Object.entries(catalog).filter(([, translation]) => translation.trim() === '')).toEqual([]);
  });

  test('has the places of each sentence, and no others', () => {
    const places = (sentence: string): string => [...new Set(holesIn(sentence))].sort().join(' ');
    const wrong = Object.entries(catalog).filter(([sentence, translation]) => places(sentence) !== places(translation));
    expect(wrong).toEqual([]);
  });

  test('keeps every unit that stands in a sentence, and has no others', () => {
    // English writes `um` and `cm2` for `µm` and `cm²`; in German `um` is a word.
    const inEnglishSigns = (sentence: string): string =>
      sentence.replace(/(?<!\{#)\bum\b/g, 'µm').replace(/m2\b/g, 'm²');
    const units = (sentence: string): string => (sentence.match(UNIT) ?? []).sort().join(' ');
    const wrong = Object.entries(catalog).filter(
      ([sentence, translation]) => units(inEnglishSigns(sentence)) !== units(translation),
    );
    expect(wrong).toEqual([]);
  });

  test('keeps every figure that stands in a sentence', () => {
    // `m²` may stand for `m2`; on a German keyboard the key Home is Pos1.
    const figures = (sentence: string): string => (sentence.replaceAll('²', '2').match(/\d+/g) ?? []).sort().join(' ');
    const wrong = Object.entries(catalog).filter(
      ([sentence, translation]) => sentence !== 'Home' && figures(sentence) !== figures(translation),
    );
    expect(wrong).toEqual([]);
  });
});
