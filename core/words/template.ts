import { FIGURE, figuresIn } from './figures.ts';

/**
 * A sentence with places that differ from one time to the next, as catalogs write it:
 *
 * - `{#name}` a figure, a time or a day: shown as the reader's language writes it
 * - `{name}` words that are a sentence or a label of their own: shown in the reader's language
 * - `{=name}` what somebody typed, or a code: shown as it is
 */
export interface Hole {
  readonly kind: 'figure' | 'words' | 'typed';
  readonly name: string;
}

export type Part = string | Hole;

const HOLE = /\{([#=]?)([a-z][A-Za-z0-9]*)\}/g;

/** The parts of a sentence in order: fixed words, and places. */
export function partsOf(sentence: string): Part[] {
  const parts: Part[] = [];
  let from = 0;
  for (const match of sentence.matchAll(HOLE)) {
    const [whole, sign, name = ''] = match;
    if (match.index > from) parts.push(sentence.slice(from, match.index));
    parts.push({ kind: sign === '#' ? 'figure' : sign === '=' ? 'typed' : 'words', name });
    from = match.index + whole.length;
  }
  if (from < sentence.length) parts.push(sentence.slice(from));
  return parts;
}

/** The places of a sentence, each as a catalog writes it. */
export const holesIn = (sentence: string): string[] => sentence.match(HOLE) ?? [];

export const isHole = (part: Part): part is Hole => typeof part !== 'string';

/** Fills a sentence's places. */
export const filled = (parts: readonly Part[], fill: (hole: Hole) => string): string =>
  parts.map((part) => (isHole(part) ? fill(part) : part)).join('');

/** What a text may hold in the places of a sentence, by name, likeliest first; nothing where it is another sentence. */
export type Match = (text: string) => readonly ReadonlyMap<string, string>[];

/** Finds a sentence again by its fixed words. Where they can be found in two ways, the first place is short, then long. */
export function matcherOf(parts: readonly Part[]): Match {
  const holes = parts.filter(isHole);
  const patterns = [SHORT, LONG].map((pattern) => wholeOf(parts, pattern));
  return (text) =>
    patterns.flatMap((whole) => {
      const found = whole.exec(text);
      return found === null ? [] : [new Map(holes.map(({ name }, index) => [name, found[index + 1] ?? '']))];
    });
}

type Patterns = Readonly<Record<Hole['kind'], string>>;

const SHORT: Patterns = { figure: FIGURE, words: '.+?', typed: '.*?' };
const LONG: Patterns = { figure: FIGURE, words: '.+', typed: '.*' };

function wholeOf(parts: readonly Part[], pattern: Patterns): RegExp {
  const held = parts.map((part) => (isHole(part) ? `(${pattern[part.kind]})` : escaped(part)));
  return new RegExp(`^${held.join('')}$`, 'su');
}

const escaped = (words: string): string => words.replace(/[\\^$.*+?()[\]{}|/]/g, String.raw`\$&`);

/** How much of a sentence is fixed: of two that fit a text, the one with more says more. */
export const fixedLetters = (parts: readonly Part[]): number =>
  parts.reduce((sum, part) => sum + (isHole(part) ? 0 : part.replace(/[^\p{L}]/gu, '').length), 0);

/** A text without its figures: what sentences that differ in figures alone have in common. */
export function skeletonOf(text: string): { readonly skeleton: string; readonly figures: readonly string[] } {
  const figures = figuresIn(text);
  let skeleton = '';
  let from = 0;
  for (const { figure, at } of figures) {
    skeleton += `${text.slice(from, at)}#`;
    from = at + figure.length;
  }
  return { skeleton: skeleton + text.slice(from), figures: figures.map(({ figure }) => figure) };
}
