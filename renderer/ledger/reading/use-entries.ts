import { useEffect, useRef, useState } from 'react';
import type { EntryView } from '../../../core/protocol/messages.ts';
import { askEntries } from '../../link/requests.ts';

/** A session's entries, in the order in which they were written. */
export interface Entries {
  readonly rows: readonly EntryView[];
  /** Whether all of them are there. */
  readonly whole: boolean;
  readonly trouble: string | null;
}

const PAGE_ROWS = 200;

/**
 * All entries of a session, a page after the other. Entries never change: when `again` does, only those behind the
 * last that is known are asked for.
 */
export function useEntries(sessionId: string, again: unknown): Entries {
  const [entries, setEntries] = useState<Entries>({ rows: [], whole: false, trouble: null });
  const known = useRef<readonly EntryView[]>([]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked anew when `again` changes
  useEffect(() => {
    let current = true;
    async function readOn(): Promise<void> {
      for (let more = true; more; ) {
        const answer = await askEntries(sessionId, known.current.at(-1)?.seq ?? 0, PAGE_ROWS);
        if (!current) return;
        if (answer.type === 'error') return setEntries((now) => ({ ...now, trouble: answer.says }));
        known.current = [...known.current, ...answer.rows];
        more = answer.more;
        setEntries({ rows: known.current, whole: !more, trouble: null });
      }
    }
    void readOn();
    return () => {
      current = false;
    };
  }, [sessionId, again]);
  return entries;
}
