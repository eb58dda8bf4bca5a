import { type Person, personSchema } from '../../core/procedure/person.ts';
import { hearMessages, linkUp, send } from '../link/connection.ts';
import { createStore, useStore } from '../link/external-store.ts';
import { snapshotNow } from '../link/store.ts';

const KEPT_AS = 'dimroom.hands';
/** Often enough that nobody who presses keys is taken for away. */
const AT_HAND_EVERY_MS = 20_000;

const hands = createStore<Person | null>(kept());
const awaySays = createStore<string | null>(null);
/** Whether the station said that they are: kept ones of an earlier page are not, where people sign in. */
let vouched = false;

/** Whose hands are at the keyboard; null before anyone has said so. */
export const useHands = (): Person | null => useStore(hands);

/** Why nobody is signed in any more; null where nothing is to be said. */
export const useAwaySays = (): string | null => useStore(awaySays);

/** Initials as typed, where the station keeps no roster. Kept for as long as the window is open. */
export function takeHands(person: Person): void {
  hands.set(person);
  sessionStorage.setItem(KEPT_AS, JSON.stringify(person));
}

/** Follows what the station says of the hands here, and tells it of every while in which keys were pressed. Called once. */
export function followHands(): void {
  linkUp.subscribe(() => {
    vouched = false;
  });
  hearMessages((message) => {
    if (message.type === 'hands') {
      vouched = message.hands !== null;
      awaySays.set(message.says);
      if (message.hands === null) letGo();
      else hands.set({ initials: message.hands.initials, role: message.hands.role });
    } else if (message.type === 'snapshot' && message.whoMay.kind !== 'as typed' && !vouched) letGo();
  });
  let toldAtMs = Number.NEGATIVE_INFINITY;
  const touched = (): void => {
    const nowMs = performance.now();
    if (!vouched || nowMs - toldAtMs < AT_HAND_EVERY_MS || snapshotNow() === null) return;
    toldAtMs = nowMs;
    send({ type: 'at-hand' });
  };
  // Before anyone else: a key that a room takes for itself was pressed by hands too.
  window.addEventListener('keydown', touched, { capture: true });
  window.addEventListener('pointerdown', touched, { capture: true });
}

function letGo(): void {
  if (hands.get() === null) return;
  hands.set(null);
  sessionStorage.removeItem(KEPT_AS);
}

function kept(): Person | null {
  try {
    return personSchema.parse(JSON.parse(sessionStorage.getItem(KEPT_AS) ?? 'null'));
  } catch {
    return null;
  }
}
