import { KEYS } from '../../core/keys/key-table.ts';
import type { Notice } from './notices.ts';

/** Keys of the console that a board hears too: where it is looked at in a browser, it may have the keyboard. */
export const BOARD_KEYS = KEYS.filter(({ doing }) => doing.does === 'dim');

/** The line that tells of them, in the reader's words. */
export function keysNotice(say: (text: string) => string): Notice {
  const keys = BOARD_KEYS.map(({ cap, words }) => `${cap} ${say(words)}`);
  return { shape: 'keys', words: [...keys, say('all other keys are heard at the console')].join(' · ') };
}
