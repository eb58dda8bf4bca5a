import { type ReactNode, useLayoutEffect, useRef } from 'react';

interface RowProps {
  /** The class of the list's own columns. */
  readonly look: string;
  /** The keys have led to it. */
  readonly here: boolean;
  /** Where it can be opened in its place: whether it is. */
  readonly opened?: boolean;
  readonly onPress: () => void;
  readonly children: ReactNode;
}

/** A row that the keys have led to has the focus, so that it is in sight and read out; opened, all of it is in sight. */
export function Row({ look, here, opened, onPress, children }: RowProps) {
  const line = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => {
    if (here) line.current?.focus({ preventScroll: true });
    if (here || opened) line.current?.scrollIntoView({ block: 'nearest' });
  }, [here, opened]);
  return (
    <button
      ref={line}
      type="button"
      className={`row ${look}`}
      data-here={here}
      aria-current={here}
      aria-expanded={opened}
      tabIndex={here ? 0 : -1}
      onClick={onPress}
    >
      {children}
    </button>
  );
}
