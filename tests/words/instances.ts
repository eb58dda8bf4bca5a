import { isHole, partsOf } from '../../core/words/template.ts';
import type { Written } from './written-words.ts';

/**
 * Which keys of a catalog a text of the program may come out as. The text has `{}` wherever something is put in, which
 * may be fixed words of a key as well as a place of it.
 */
export function instancesOf({ text }: Pick<Written, 'text'>, keys: readonly string[]): string[] {
  const pattern = text.trim().split('{}').map(escaped).join('.*');
  const like = new RegExp(`^${pattern}$`, 'su');
  return keys.filter((key) => like.test(filledIn(key)));
}

/** A key with a word in each of its places. */
const filledIn = (key: string): string =>
  partsOf(key)
    .map((part) => (isHole(part) ? (part.kind === 'figure' ? '7' : '…') : part))
    .join('');

const escaped = (words: string): string => words.replace(/[\\^$.*+?()[\]{}|/]/g, String.raw`\$&`);
