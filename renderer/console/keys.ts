import { KEYS, type KeyBinding } from '../../core/keys/key-table.ts';
import type { SessionView } from '../../core/protocol/view.ts';

/** Whether a key is answered in this session now. */
export function isOffered({ needs, when, doing }: KeyBinding, view: SessionView | null): boolean {
  if (when !== undefined && (view === null || !when(view))) return false;
  if (needs === undefined) return true;
  const opening = view?.commands[needs];
  if (opening === undefined) return false;
  return opening.open || (doing.does === 'give' && opening.withReason);
}

/** Whether the console hears a key while a room is open in it: nothing is given unseen. */
export const isHeardInRoom = ({ doing }: KeyBinding): boolean => doing.does !== 'give' && doing.does !== 'override';

/** What a key press means here. `task` is the number of a task. */
export type Press = { readonly binding: KeyBinding } | { readonly task: number; readonly takeBack: boolean } | null;

/**
 * Reads a key press. Digits are read by their place on the keyboard, since with Shift, or on some keyboards without, the
 * row of digits writes other signs.
 */
export function pressOf(event: Pick<KeyboardEvent, 'key' | 'code' | 'shiftKey'>): Press {
  const digit = /^(Digit|Numpad)([1-9])$/.exec(event.code);
  if (digit !== null) return { task: Number(digit[2]), takeBack: event.shiftKey && digit[1] === 'Digit' };
  const key = event.key.toLowerCase();
  const isLetter = /^[a-z]$/.test(key);
  const binding = KEYS.find((one) => one.key === key && (!isLetter || (one.shift ?? false) === event.shiftKey));
  return binding === undefined ? null : { binding };
}
