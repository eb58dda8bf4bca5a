import { useEffect, useState } from 'react';
import type { SessionReading } from '../../../core/protocol/finding.ts';
import { askReading } from '../../link/requests.ts';

/** A session as it is judged; null until it has been asked. Asked for anew when `again` changes. */
export function useReading(sessionId: string, again: unknown): SessionReading | null {
  const [reading, setReading] = useState<SessionReading | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked anew when `again` changes
  useEffect(() => {
    let current = true;
    void askReading(sessionId).then((answer) => {
      if (!current) return;
      setReading(answer.type === 'error' ? { sessionId, measures: null, deviations: [], says: answer.says } : answer);
    });
    return () => {
      current = false;
    };
  }, [sessionId, again]);
  return reading?.sessionId === sessionId ? reading : null;
}
