import { readAnchor } from '../../core/ledger/verify.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { readWhole, type WholeReading } from './whole-reading.ts';

/** Readings of the whole ledger that screens ask for. Nothing that is commanded depends on them. */
export interface Verifying {
  /** Begins a reading under a name that is not known yet; answers how far it is, or what it came to. */
  ask(requestId: string, run: string, anchor: string | null): Promise<Message>;
}

/** A reading that takes longer is answered as going on still. */
const PATIENCE_MS = 1_000;
const MOST_AT_ONCE = 2;
/** What readings came to is kept for so many of them. */
const KEPT = 8;

interface Run {
  readonly ofSeq: number;
  readTo: number;
  reading: WholeReading | null;
  readonly done: Promise<unknown>;
}

/** `headSeq` is the ledger's last sequence now. */
export function verifyingOf(ledgerFile: string, headSeq: () => number): Verifying {
  const runs = new Map<string, Run>();

  function begun(run: string, anchor: string | null): Run {
    const reading = readWhole(ledgerFile, { anchor, onReadTo: (seq) => Object.assign(begins, { readTo: seq }) });
    const done = reading.then((came) => Object.assign(begins, { reading: came }));
    const begins: Run = { ofSeq: headSeq(), readTo: 0, reading: null, done };
    runs.set(run, begins);
    const [oldest] = runs.keys();
    if (runs.size > KEPT && oldest !== undefined) runs.delete(oldest);
    return begins;
  }

  function refusal(run: string, anchor: string | null): string | null {
    if (runs.has(run)) return null;
    const underWay = [...runs.values()].filter(({ reading }) => reading === null).length;
    if (underWay >= MOST_AT_ONCE) return 'the ledger is being read already: wait until that is done';
    try {
      if (anchor !== null) readAnchor(anchor);
      return null;
    } catch (error) {
      return error instanceof Error ? error.message : String(error);
    }
  }

  return {
    ask: async (requestId, run, anchor) => {
      const says = refusal(run, anchor);
      if (says !== null) return { type: 'error', requestId, says };
      const known = runs.get(run) ?? begun(run, anchor);
      await Promise.race([known.done, new Promise((resolve) => setTimeout(resolve, PATIENCE_MS).unref())]);
      const { readTo, ofSeq, reading } = known;
      const share = reading === null ? Math.min(1, readTo / Math.max(1, ofSeq)) : 1;
      return { type: 'verifying', requestId, run, share, reading };
    },
  };
}
