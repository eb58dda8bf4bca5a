import { useEffectEvent, useLayoutEffect } from 'react';
import type { SessionView } from '../../core/protocol/view.ts';
import { isHeardInRoom, pressOf } from './keys.ts';
import { roomIn } from './panel.ts';
import type { Desk } from './use-desk.ts';

/** The keyboard of the console. A key that is held down is pressed once; what lies over the tasks has the keys first. */
export function useKeyboard(desk: Desk, view: SessionView | null): void {
  const onKey = useEffectEvent((event: KeyboardEvent) => {
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
    const { panel } = desk;
    if (roomIn(panel) !== null) {
      if (!event.repeat) pressedInRoom(event);
    } else if (panel?.kind === 'recovery code') return;
    else if (event.key === 'Escape') desk.leave();
    else if (event.repeat) keepFromPressing(event);
    else if (panel === null) pressed(event);
  });
  const pressed = (event: KeyboardEvent): void => {
    const goesOn = event.key === 'Enter' && !(event.target instanceof HTMLButtonElement);
    const press = goesOn ? null : pressOf(event);
    if (!goesOn && press === null) return;
    event.preventDefault();
    if (press === null) desk.goOn();
    else if ('binding' in press) desk.press(press.binding);
    else {
      const task = view?.tasks[press.task - 1];
      if (task !== undefined) desk.pressTask(task, press.takeBack);
    }
  };
  /** A room has Enter, Esc and the arrows. A form is one key away all the same. */
  const pressedInRoom = (event: KeyboardEvent): void => {
    const press = pressOf(event);
    if (press === null || !('binding' in press) || !isHeardInRoom(press.binding)) return;
    event.preventDefault();
    desk.press(press.binding);
  };
  useLayoutEffect(() => {
    const hear = (event: KeyboardEvent) => onKey(event);
    window.addEventListener('keydown', hear);
    window.addEventListener('click', letGo);
    return () => {
      window.removeEventListener('keydown', hear);
      window.removeEventListener('click', letGo);
    };
  }, []);
}

/** A key that is held down would press a button that has the focus over and over. */
function keepFromPressing(event: KeyboardEvent): void {
  if (event.key === 'Enter' || event.key === ' ') event.preventDefault();
}

/** A button pressed with the mouse does not keep the keyboard: Enter stays with the framed line. */
function letGo({ detail, target }: MouseEvent): void {
  const button = detail > 0 && target instanceof Element ? target.closest('button') : null;
  button?.blur();
}
