import { useEffect, useEffectEvent, useState } from 'react';
import { useDim } from '../link/store.ts';
import { dimFurther } from '../parts/dim-further.ts';
import { useKeys } from '../parts/use-keys.ts';
import { BOARD_KEYS, keysNotice } from './board-keys.ts';
import type { Notice } from './notices.ts';

/** Long enough to read it, for somebody who treats in the dark meanwhile. */
const TOLD_MS = 8_000;

/**
 * Hears the keys of a board. After `?` it gives, for a while or until the next key, the line that tells of them: at the
 * edge, and no brighter than what is not now.
 */
export function useBoardKeys(say: (text: string) => string): Notice | null {
  const dim = useDim();
  const [told, setTold] = useState(false);
  useKeys((event) => {
    if (event.repeat || ONLY_HELD.includes(event.key)) return;
    setTold(event.key === '?' && !told);
    if (BOARD_KEYS.some(({ key }) => key === event.key.toLowerCase())) dimFurther(dim);
  });
  const goAway = useEffectEvent(() => setTold(false));
  useEffect(() => {
    if (!told) return;
    const timer = setTimeout(goAway, TOLD_MS);
    return () => clearTimeout(timer);
  }, [told]);
  return told ? keysNotice(say) : null;
}

/** `?` is written with one of them on many keyboards. */
const ONLY_HELD: readonly string[] = ['Shift', 'AltGraph', 'CapsLock'];
