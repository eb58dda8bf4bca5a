import { type Person, personSchema } from '../../core/procedure/person.ts';
import { createStore, useStore } from '../link/external-store.ts';

const KEPT_AS = 'dimroom.hands';
const hands = createStore<Person | null>(kept());

/** Whose hands are at the keyboard; null before anyone has said so. Kept for as long as the window is open. */
export const useHands = (): Person | null => useStore(hands);

export function takeHands(person: Person): void {
  hands.set(person);
  sessionStorage.setItem(KEPT_AS, JSON.stringify(person));
}

function kept(): Person | null {
  try {
    return personSchema.parse(JSON.parse(sessionStorage.getItem(KEPT_AS) ?? 'null'));
  } catch {
    return null;
  }
}
