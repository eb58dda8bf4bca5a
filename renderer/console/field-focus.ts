import type { KeyboardEvent } from 'react';

/** The field that has the focus, by its name. */
export function focusedField(): string | undefined {
  const { activeElement } = document;
  if (activeElement instanceof HTMLInputElement && activeElement.type === 'radio') return activeElement.name;
  return activeElement instanceof HTMLElement ? activeElement.dataset.field : undefined;
}

export function focusOn(place: HTMLElement | null, name: string): void {
  place?.querySelector<HTMLElement>(`[data-field="${name}"]`)?.focus();
}

export function focusOnFirst(place: HTMLElement | null): void {
  (place?.querySelector<HTMLElement>('[data-field]') ?? place)?.focus();
}

/** Up and down go from field to field, where they do not choose. */
export function moveFocus(event: KeyboardEvent<HTMLElement>, names: readonly string[]): void {
  const { target, currentTarget } = event;
  if (!(target instanceof HTMLInputElement)) return;
  const inAnswer = target.closest('.form-field-answer') !== null;
  if (target.type === 'radio' && !inAnswer) return;
  const name = names[names.indexOf(focusedField() ?? '') + (event.key === 'ArrowDown' ? 1 : -1)];
  event.preventDefault();
  if (name !== undefined) focusOn(currentTarget, name);
}
