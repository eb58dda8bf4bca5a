import { type RefObject, useLayoutEffect, useRef } from 'react';
import { type RoomKey, useRoomKeys } from './room-keys.ts';

interface RowKeys {
  readonly at: number;
  readonly rows: number;
  readonly onAt: (at: number) => void;
  readonly onEnter: (at: number) => void;
}

/** The keys that lead through a list, and Enter on the row they lead to. */
export function useRowKeys({ at, rows, onAt, onEnter }: RowKeys): void {
  const steps = Object.entries(STEPS).map(([key, by]): RoomKey => {
    const to = Math.min(rows - 1, Math.max(0, at + by));
    return { key, cap: key, words: '', repeats: true, does: () => rows > 0 && onAt(to) };
  });
  const enter: RoomKey = { key: 'Enter', cap: 'Enter', words: '', does: () => rows > 0 && onEnter(at) };
  useRoomKeys([...steps, enter]);
}

const STEPS: Readonly<Record<string, number>> = {
  ArrowDown: 1,
  ArrowUp: -1,
  PageDown: 10,
  PageUp: -10,
  Home: Number.NEGATIVE_INFINITY,
  End: Number.POSITIVE_INFINITY,
};

export const ROW_KEYS_TOLD = [['↑', '↓'], 'choose'] as const;

/** A row that the keys have led to has the focus, so that it is in sight and read out; opened, all of it is in sight. */
export function useRowFocus(here: boolean, opened = false): RefObject<HTMLButtonElement | null> {
  const line = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => {
    if (here) line.current?.focus({ preventScroll: true });
    if (here || opened) line.current?.scrollIntoView({ block: 'nearest' });
  }, [here, opened]);
  return line;
}
