import { useCallback, useRef, useState } from 'react';
import type { Given } from '../link/requests.ts';

export interface Giving {
  /** A command is under way: nothing else is given until it is answered. */
  readonly busy: boolean;
  /** Gives it, unless another is under way. Null where it was not given. */
  run(send: () => Promise<Given>): Promise<Given | null>;
}

/** One command at a time. */
export function useGiving(): Giving {
  const [busy, setBusy] = useState(false);
  const underWay = useRef(false);
  const run = useCallback(async (send: () => Promise<Given>): Promise<Given | null> => {
    if (underWay.current) return null;
    underWay.current = true;
    setBusy(true);
    try {
      return await send();
    } finally {
      underWay.current = false;
      setBusy(false);
    }
  }, []);
  return { busy, run };
}

/** Why a command was not entered, as sentences; nothing where it was. */
export function refusalOf(given: Given | null): readonly string[] {
  if (given === null) return ['the last one is still being written: wait, then press again'];
  if (given.type === 'entered') return [];
  return given.type === 'error' ? [given.says] : given.missing.map(({ text }) => text);
}
