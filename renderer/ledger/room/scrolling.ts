import { type RefObject, useLayoutEffect, useRef } from 'react';
import { type RoomKey, useRoomKeys } from './room-keys.ts';

/** Each moves the page by a share of what is in sight. */
const STEPS = [
  { key: 'ArrowDown', cap: '↓', words: 'down the page', share: 0.15 },
  { key: 'ArrowUp', cap: '↑', words: 'up the page', share: -0.15 },
  { key: 'PageDown', cap: 'Page ↓', words: 'further down', share: 0.9 },
  { key: 'PageUp', cap: 'Page ↑', words: 'further up', share: -0.9 },
] as const;

export const SCROLL_KEYS_TOLD = [['↑', '↓'], 'up and down the page'] as const;

/** A page that is longer than the room: the keys move it, and it has the focus from the beginning. */
export function useScrolling(): RefObject<HTMLElement | null> {
  const place = useRef<HTMLElement>(null);
  useLayoutEffect(() => place.current?.focus({ preventScroll: true }), []);
  useRoomKeys(
    STEPS.map(({ share, ...key }): RoomKey => {
      const does = (): void => place.current?.scrollBy({ top: share * place.current.clientHeight });
      return { ...key, repeats: true, does };
    }),
  );
  return place;
}
