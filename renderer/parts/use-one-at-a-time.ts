import { useRef, useState } from 'react';

/** One request at a time: null where another is under way. */
export function useOneAtATime() {
  const [busy, setBusy] = useState(false);
  const underWay = useRef(false);
  async function run<Answer>(ask: () => Promise<Answer>): Promise<Answer | null> {
    if (underWay.current) return null;
    underWay.current = true;
    setBusy(true);
    try {
      return await ask();
    } finally {
      underWay.current = false;
      setBusy(false);
    }
  }
  return { busy, run };
}
