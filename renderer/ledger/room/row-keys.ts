import type { KeysTold } from './key-line.tsx';
import { type RoomKey, useRoomKeys } from './room-keys.ts';

interface RowKeys {
  readonly at: number;
  readonly rows: number;
  readonly onAt: (at: number) => void;
  /** What Enter does on a row, and its words; null where it does nothing. */
  readonly enter: { readonly words: string; readonly does: (at: number) => void } | null;
}

/** The keys that lead through a list, and Enter on the row they lead to. Gives what is to be told of them below it. */
export function useRowKeys({ at, rows, onAt, enter }: RowKeys): readonly KeysTold[] {
  const steps = STEPS.map(({ by, ...key }): RoomKey => {
    const to = Math.min(rows - 1, Math.max(0, at + by));
    return { ...key, repeats: true, does: () => rows > 0 && onAt(to) };
  });
  const onEnter = enter && { key: 'Enter', cap: 'Enter', words: enter.words, does: () => rows > 0 && enter.does(at) };
  useRoomKeys(onEnter === null ? steps : [...steps, onEnter]);
  return [ARROWS_TOLD, ...(onEnter === null ? [] : [[[onEnter.cap], onEnter.words] as const])];
}

const STEPS = [
  { key: 'ArrowDown', cap: '↓', words: 'the next one', by: 1 },
  { key: 'ArrowUp', cap: '↑', words: 'the one before', by: -1 },
  { key: 'PageDown', cap: 'Page ↓', words: 'ten further', by: 10 },
  { key: 'PageUp', cap: 'Page ↑', words: 'ten back', by: -10 },
  { key: 'Home', cap: 'Home', words: 'the first', by: Number.NEGATIVE_INFINITY },
  { key: 'End', cap: 'End', words: 'the last', by: Number.POSITIVE_INFINITY },
] as const;

const ARROWS_TOLD: KeysTold = [['↑', '↓'], 'choose'];
