import { useLayoutEffect, useState } from 'react';
import { type Arming, createArming } from './arming.ts';

/** One guard for Enter over the whole window: `thing` says what Enter would confirm now. */
export function useArming(thing: string): Arming {
  const [arming] = useState(createArming);
  useLayoutEffect(() => arming.see(thing), [arming, thing]);
  useLayoutEffect(() => {
    const down = (event: KeyboardEvent) => isConfirming(event) && arming.press();
    const up = (event: KeyboardEvent) => isConfirming(event) && arming.release();
    const release = () => arming.release();
    // After everyone else: what a press confirms is judged by how things were before it.
    window.addEventListener('keydown', down);
    window.addEventListener('keyup', up, { capture: true });
    window.addEventListener('blur', release);
    return () => {
      window.removeEventListener('keydown', down);
      window.removeEventListener('keyup', up, { capture: true });
      window.removeEventListener('blur', release);
    };
  }, [arming]);
  return arming;
}

/** Space presses a button that has the focus, as Enter does. */
const isConfirming = ({ key }: KeyboardEvent): boolean => key === 'Enter' || key === ' ';
