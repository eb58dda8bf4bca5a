import type { KeyboardEvent } from 'react';

/** What is typed into a field of a room is no key of the console around it. */
export function keepTyping(event: KeyboardEvent): void {
  if (event.target instanceof HTMLInputElement) event.stopPropagation();
}
