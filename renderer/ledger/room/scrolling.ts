import { type RefObject, useLayoutEffect, useRef } from 'react';
import { type RoomKey, useRoomKeys } from './room-keys.ts';

const STEPS: Readonly<Record<string, number>> = { ArrowDown: 0.15, ArrowUp: -0.15, PageDown: 0.9, PageUp: -0.9 };

export const SCROLL_KEYS_TOLD = [['↑', '↓'], 'up and down the page'] as const;

/** A page that is longer than the room: the keys move it, and it has the focus from the beginning. */
export function useScrolling(): RefObject<HTMLElement | null> {
  const place = useRef<HTMLElement>(null);
  useLayoutEffect(() => place.current?.focus({ preventScroll: true }), []);
  useRoomKeys(
    Object.entries(STEPS).map(([key, share]): RoomKey => {
      const does = (): void => place.current?.scrollBy({ top: share * place.current.clientHeight });
      return { key, cap: key, words: '', repeats: true, does };
    }),
  );
  return place;
}
