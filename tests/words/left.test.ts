import { describe, expect, test } from 'vitest';
import { LANGUAGES, type Language } from '../../core/settings/language.ts';
import { say } from '../../renderer/words/say.ts';
import { COMPOSED } from './composed-words.ts';
import { shownWords } from './shown-words.ts';

/** The side, in each language. */
const SIDE: Record<Exclude<Language, 'en'>, RegExp> = { de: /\blink/i, es: /izquierd/i, fr: /gauche/i };

/** Where English has `left` as the side: an eye, alone or in a list of both, or what two people ordered for it. */
const OF_THE_SIDE = /\bleft( eye\b|$)|\bleft \d+/;
/** Where it stands for what remains, or for whoever went. */
const OF_WHAT_REMAINS =
  /\d left$|^(?:infusion held|light) ?,? left$|held · light left|that are left|what is left|is left untreated/;

const shown = [...shownWords(), ...COMPOSED].filter((text) => /\bleft\b/.test(text));
const remaining = shown.filter((text) => OF_WHAT_REMAINS.test(text) && !/left eye/.test(text));
const sides = shown.filter((text) => OF_THE_SIDE.test(text) && !OF_WHAT_REMAINS.test(text));

describe.each(LANGUAGES.filter((language) => language !== 'en'))('"left", in %s', (language) => {
  test('is never a side where it is what remains', () => {
    expect(remaining.length).toBeGreaterThan(4);
    expect(remaining.filter((text) => SIDE[language].test(say(text, language)))).toEqual([]);
  });

  test('is the side wherever it is an eye', () => {
    expect(sides.length).toBeGreaterThan(4);
    expect(sides.filter((text) => !SIDE[language].test(say(text, language)))).toEqual([]);
  });
});
