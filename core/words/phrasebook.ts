import type { Language } from '../settings/language.ts';
import { figureFor, isWordless, withFigures } from './figures.ts';
import {
  filled,
  fixedLetters,
  type Hole,
  isHole,
  type Match,
  matcherOf,
  type Part,
  partsOf,
  skeletonOf,
} from './template.ts';

/** What a language has for English sentences: each key is a whole sentence or label, as `template.ts` describes it. */
export type Catalog = Readonly<Record<string, string>>;

/** Finds an English text in a catalog, and says it; null where the catalog has not all of it. */
export type Phrasebook = (text: string) => string | null;

/** A sentence with places, ready to be found. */
interface Phrase {
  readonly fixedWords: readonly string[];
  readonly match: Match;
  readonly holes: readonly Hole[];
  readonly into: readonly Part[];
  readonly fixed: number;
}

/** Makes a catalog ready for finding. `used` hears of each key that was found. */
export function phrasebook(catalog: Catalog, language: Language, used: (key: string) => void = () => {}): Phrasebook {
  const bySkeleton = new Map<string, { key: string; phrase: Phrase }[]>();
  const others: { key: string; phrase: Phrase }[] = [];
  for (const [key, translation] of Object.entries(catalog)) {
    const parts = partsOf(key);
    if (!parts.some(isHole)) continue;
    const one = { key, phrase: phraseOf(parts, translation) };
    if (parts.every((part) => !isHole(part) || part.kind === 'figure')) {
      const { skeleton } = skeletonOf(filled(parts, () => '7'));
      bySkeleton.set(skeleton, mostFixedFirst([...(bySkeleton.get(skeleton) ?? []), one]));
    } else others.push(one);
  }
  const phrases = mostFixedFirst(others);

  /** What came of each piece of a text, so that none is looked for twice. */
  let pieces = new Map<string, string | null>();

  function find(text: string): string | null {
    const known = pieces.get(text);
    if (known !== undefined) return known;
    const words = findPiece(text);
    pieces.set(text, words);
    return words;
  }

  function findPiece(text: string): string | null {
    const exact = Object.hasOwn(catalog, text) ? catalog[text] : undefined;
    if (exact !== undefined) {
      used(text);
      return exact;
    }
    const alike = bySkeleton.get(skeletonOf(text).skeleton) ?? [];
    return (
      first(alike, text) ?? continued(text) ?? listOf(text, find, language) ?? first(phrases, text) ?? wordless(text)
    );
  }

  /** What goes on with a point of its own from what stands before it. */
  function continued(text: string): string | null {
    const words = text.startsWith(POINT) ? find(text.slice(POINT.length)) : null;
    return words === null ? null : `${POINT}${words}`;
  }

  function first(candidates: readonly { key: string; phrase: Phrase }[], text: string): string | null {
    for (const { key, phrase } of candidates) {
      const words = translated(phrase, text);
      if (words === null) continue;
      used(key);
      return words;
    }
    return null;
  }

  function translated({ fixedWords, match, holes, into }: Phrase, text: string): string | null {
    if (!fixedWords.every((words) => text.includes(words))) return null;
    for (const found of match(text)) {
      const held = holes.map(({ kind, name }) => [name, inPlace(kind, found.get(name) ?? '')] as const);
      if (held.some(([, words]) => words === null)) continue;
      const words = new Map(held);
      return filled(into, ({ name }) => words.get(name) ?? '');
    }
    return null;
  }

  function inPlace(kind: Hole['kind'], held: string): string | null {
    if (kind === 'typed') return held;
    return kind === 'figure' ? figureFor(held, language) : find(held);
  }

  const wordless = (text: string): string | null =>
    isWordless(text) ? withFigures(text, (figure) => figureFor(figure, language)) : null;

  return (text) => {
    pieces = new Map();
    return find(text);
  };
}

const POINT = '· ';

const phraseOf = (parts: readonly Part[], translation: string): Phrase => ({
  fixedWords: parts.filter((part) => typeof part === 'string'),
  match: matcherOf(parts),
  holes: parts.filter(isHole),
  into: partsOf(translation),
  fixed: fixedLetters(parts),
});

const mostFixedFirst = <One extends { phrase: Phrase }>(all: readonly One[]): One[] =>
  [...all].sort((one, other) => other.phrase.fixed - one.phrase.fixed);

/** How English screens string sentences and labels together. */
const PARTED_BY = [
  { at: / · /, by: ' · ' },
  { at: /(?<=[.?!]) (?=[\p{Lu}\d])/u, by: ' ' },
  { at: /\. (?=\p{Ll})/u, by: '. ' },
  { at: /; /, by: '; ' },
  { at: /, /, by: ', ' },
] as const;

/** French keeps a space before a semicolon, on the same line. */
const byIn = (by: string, language: Language): string => (language === 'fr' && by === '; ' ? '\u00a0; ' : by);

/** A list of sentences, where each of them is known by itself. */
function listOf(text: string, find: Phrasebook, language: Language): string | null {
  for (const { at, by } of PARTED_BY) {
    const pieces = text.split(at);
    if (pieces.length === 1) continue;
    const said = pieces.map(find);
    if (said.every((piece) => piece !== null)) return said.join(byIn(by, language));
  }
  return null;
}
