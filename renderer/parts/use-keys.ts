import { useEffectEvent, useLayoutEffect } from 'react';

/** Hears keys over the whole window, but for those with a modifier. */
export function useKeys(hear: (event: KeyboardEvent) => void): void {
  const heard = useEffectEvent((event: KeyboardEvent) => {
    if (!event.ctrlKey && !event.altKey && !event.metaKey) hear(event);
  });
  useLayoutEffect(() => {
    const listen = (event: KeyboardEvent) => heard(event);
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, []);
}
