import { useEffectEvent, useLayoutEffect } from 'react';
import { useToldKeys } from '../../parts/key-help.ts';

/** One key of the ledger room: how it is printed, what it does, and the words that stand beside it. */
export interface RoomKey {
  /** `KeyboardEvent.key`; letters in small. */
  readonly key: string;
  readonly cap: string;
  readonly words: string;
  readonly does: () => void;
  /** Goes on while it is held down. */
  readonly repeats?: boolean;
}

interface Where {
  /** Also while something is being typed. */
  readonly inForms?: boolean;
}

/**
 * Hears the room's keys before anything else does, so that the console around it takes none of them twice. Keys that
 * the room does not know go on to the console: whoever reads the ledger can still hold an infusion.
 */
export function useRoomKeys(keys: readonly RoomKey[], { inForms = false }: Where = {}): void {
  const heard = useEffectEvent((event: KeyboardEvent) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (!inForms && isTyped(event)) return;
    const found = keys.find(({ key }) => key === keyOf(event));
    if (found === undefined || pressesAButton(event)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (!event.repeat || found.repeats === true) found.does();
  });
  useToldKeys(keys, inForms);
  // Before anyone can see the room: a key pressed at its first sight is neither lost nor left to the console.
  useLayoutEffect(() => {
    const listen = (event: KeyboardEvent) => heard(event);
    window.addEventListener('keydown', listen, { capture: true });
    return () => window.removeEventListener('keydown', listen, { capture: true });
  }, []);
}

/** Digits by their place on the keyboard, since some keyboards write other signs there; capitals are no keys here. */
export function keyOf({ key, code, shiftKey }: Pick<KeyboardEvent, 'key' | 'code' | 'shiftKey'>): string | null {
  const digit = /^(?:Digit|Numpad)([0-9])$/.exec(code)?.[1];
  if (digit !== undefined) return shiftKey ? null : digit;
  if (!/^[a-z]$/i.test(key)) return key;
  return shiftKey ? null : key.toLowerCase();
}

/** Whether a key is meant for a field. The form as a whole may have the focus without being typed into. */
const isTyped = ({ target }: KeyboardEvent): boolean => target instanceof HTMLInputElement;

/** Enter on a button that was gone to presses that button; in a list, Enter is the list's. */
const pressesAButton = ({ key, target }: KeyboardEvent): boolean =>
  key === 'Enter' && target instanceof HTMLButtonElement && target.closest('.rows') === null;
