import { use, useEffectEvent, useLayoutEffect } from 'react';
import type { ToldKey } from '../../core/keys/key-table.ts';
import type { Language } from '../../core/settings/language.ts';
import { createStore, useStore } from '../link/external-store.ts';
import { LanguageHere } from '../words/language-here.ts';

/** A key as it is told, with what it is heard by where that is one key. */
export type KeyHere = ToldKey & { readonly key?: string };

interface Told {
  readonly language: Language;
  readonly keys: readonly KeyHere[];
}

export interface KeysHere extends Told {
  /** A field has the focus: keys that are heard over the whole screen go to it instead. */
  readonly inField: boolean;
}

const tellers = new Set<(inField: boolean) => Told>();
const help = createStore<KeysHere | null>(null);

/** The keys that were heard when the list of them was asked for; null while it is not open. */
export const useKeyHelp = (): KeysHere | null => useStore(help);
export const openKeyHelp = (): void => help.set(help.get() ?? keysHere());
export const closeKeyHelp = (): void => help.set(null);

/**
 * Tells of keys for as long as they are heard: called by whatever hears them, with what it hears them by. `inForms`: also
 * while a field has the focus.
 */
export function useToldKeys(keys: readonly KeyHere[], inForms = true): void {
  const language = use(LanguageHere);
  const tell = useEffectEvent((inField: boolean): Told => ({ language, keys: inField && !inForms ? [] : keys }));
  useLayoutEffect(() => {
    const teller = (inField: boolean) => tell(inField);
    tellers.add(teller);
    return () => {
      tellers.delete(teller);
    };
  }, []);
}

/** The keys that are heard now, beside those of the screen itself; each once, as whoever hears it first tells of it. */
function keysHere(): KeysHere {
  const inField = document.activeElement instanceof HTMLInputElement;
  const told = [...tellers].map((tell) => tell(inField));
  const keys = new Map<string, KeyHere>();
  for (const one of told.flatMap((teller) => teller.keys)) if (!keys.has(one.cap)) keys.set(one.cap, one);
  return { language: told[0]?.language ?? 'en', keys: [...keys.values()], inField };
}

/**
 * Hears `?` wherever nothing is typed. While the list is open nothing else hears a key, whatever lies below it: called
 * once, before anything that hears keys is drawn.
 */
export function followKeyHelp(): void {
  const hear = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const isOpen = help.get() !== null;
    if (isOpen) event.stopImmediatePropagation();
    const asks = event.key === '?' && !isTyped(event);
    if (!asks && !(isOpen && event.key === 'Escape')) return;
    event.preventDefault();
    if (event.repeat) return;
    if (isOpen) closeKeyHelp();
    else openKeyHelp();
  };
  window.addEventListener('keydown', hear, { capture: true });
}

const isTyped = ({ target }: KeyboardEvent): boolean =>
  target instanceof HTMLInputElement && ['text', 'password'].includes(target.type);
