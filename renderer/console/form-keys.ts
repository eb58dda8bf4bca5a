import type { KeyboardEvent } from 'react';
import { useToldKeys } from '../parts/key-help.ts';
import { moveFocus } from './field-focus.ts';

interface FormKeys {
  /** Its fields in order, where the arrows lead from one to the next. */
  readonly names?: readonly string[];
  /** What Enter does. */
  readonly words: string;
  readonly onEnter: () => void;
  /** What has Enter for itself beside buttons. */
  readonly own?: (target: EventTarget) => boolean;
}

/** The keys of a form: Enter wherever one is in it, but on a button, and the arrows from field to field. */
export function useFormKeys({ names = [], words, onEnter, own = () => false }: FormKeys) {
  const enter = (event: KeyboardEvent<HTMLFormElement>): void => {
    if (event.target instanceof HTMLButtonElement || own(event.target)) return;
    event.preventDefault();
    if (!event.repeat) onEnter();
  };
  const move = (event: KeyboardEvent<HTMLFormElement>): void => moveFocus(event, names);
  const arrows = [
    { key: 'ArrowDown', cap: '↓', words: 'the next field; in a choice, the next one of it', does: move },
    { key: 'ArrowUp', cap: '↑', words: 'the field before; in a choice, the one before', does: move },
  ];
  const keys = [{ key: 'Enter', cap: 'Enter', words, does: enter }, ...(names.length > 0 ? arrows : [])];
  useToldKeys(keys);
  return (event: KeyboardEvent<HTMLFormElement>): void => keys.find(({ key }) => key === event.key)?.does(event);
}
