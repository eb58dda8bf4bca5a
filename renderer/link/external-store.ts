import { useSyncExternalStore } from 'react';

/** A value that screens follow. A value that is the same object is no change. */
export interface Store<Value> {
  get(): Value;
  set(next: Value): void;
  subscribe(changed: () => void): () => void;
}

export function createStore<Value>(first: Value): Store<Value> {
  let present = first;
  const followers = new Set<() => void>();
  return {
    get: () => present,
    set: (next) => {
      if (Object.is(next, present)) return;
      present = next;
      for (const changed of followers) changed();
    },
    subscribe: (changed) => {
      followers.add(changed);
      return () => followers.delete(changed);
    },
  };
}

export const useStore = <Value>(store: Store<Value>): Value => useSyncExternalStore(store.subscribe, store.get);
