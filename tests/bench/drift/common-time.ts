import type { Page } from 'playwright';
import { NURSE } from '../../session-steps.ts';
import { entriesIn } from '../../station/independent-reading.ts';

/** What is to be added to a page's clock to have the station's: known to lie between these two. */
export interface Offset {
  readonly leastMs: number;
  readonly mostMs: number;
}

/**
 * The station's continuous clock beside a page's own, by entries. The page notes its clock, has a note entered, and notes
 * its clock again when it is told: the instant in the entry, as it stands in the file, lies in between. Nothing else is
 * assumed of either clock; many notes narrow it down.
 */
export async function offsetByNotes(page: Page, ledgerFile: string, sessionId: string, notes: number): Promise<Offset> {
  const seen = await page.evaluate(enterNotes, { sessionId, notes, by: NURSE });
  const entered = new Map(entriesIn(ledgerFile).map(({ seq, continuousMs }) => [seq, continuousMs]));
  return narrowed(
    seen.map(({ seq, beforeMs, afterMs }) => {
      const atMs = entered.get(seq);
      if (atMs === undefined) throw new Error(`entry ${seq} is not in the file`);
      return { leastMs: atMs - afterMs, mostMs: atMs - beforeMs };
    }),
  );
}

/** What all of these say together. The least is above the most where two clocks ran apart in between. */
export const narrowed = (offsets: readonly Offset[]): Offset => ({
  leastMs: Math.max(...offsets.map(({ leastMs }) => leastMs)),
  mostMs: Math.min(...offsets.map(({ mostMs }) => mostMs)),
});

export const middleOf = ({ leastMs, mostMs }: Offset): number => (leastMs + mostMs) / 2;

interface Asked {
  readonly sessionId: string;
  readonly notes: number;
  readonly by: unknown;
}

/** Runs in the page. */
async function enterNotes({ sessionId, notes, by }: Asked) {
  type Heard = { type: string; requestId?: string; seq: number; sessions: { sessionId: string; seq: number }[] };
  const hearUntil = <Value>(take: (heard: Heard) => Value | undefined): Promise<Value> =>
    new Promise((resolve) => {
      const stop = window.dimroom?.onMessage((heard) => {
        const value = take(heard as Heard);
        if (value === undefined) return;
        stop?.();
        resolve(value);
      });
    });
  const ofSession = ({ type, sessions }: Heard): number | undefined =>
    type === 'snapshot' ? sessions.find((session) => session.sessionId === sessionId)?.seq : undefined;

  const seen = [];
  let seq = await hearUntil(ofSession);
  while (seen.length < notes) {
    const requestId = crypto.randomUUID();
    const answered = hearUntil((heard) => (heard.requestId === requestId ? heard : undefined));
    const beforeMs = performance.now();
    const command = { kind: 'note', words: 'two clocks are compared' };
    window.dimroom?.send({ type: 'command', requestId, sessionId, seq, by, command });
    const answer = await answered;
    if (answer.type === 'entered') {
      seq = answer.seq;
      seen.push({ seq, beforeMs, afterMs: performance.now() });
      // Something came due meanwhile, and the press was stale: once more.
    } else seq = await hearUntil(ofSession);
  }
  return seen;
}
