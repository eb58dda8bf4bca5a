import type { Indexed } from '../../../core/protocol/finding.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import { aboutOf, type IndexFile } from './index-file.ts';
import { keptSession, type MeasuredSession } from './kept-session.ts';
import type { LedgerReader, OpenedSession } from './ledger-reader.ts';
import { type SessionStore, sessionStore } from './session-store.ts';

/** Brings an index up to its ledger, a little at a time. */
export interface CatchUp {
  /** Does one batch of what is left, the newest sessions first. Returns false where nothing is left. */
  step(): boolean;
  /** What is kept of a session, which is taken in before its turn if need be; null where there is none of that name. */
  known(sessionId: string): MeasuredSession | null;
  indexed(): Indexed;
}

/** Sessions in one transaction: what an answer waits for at most while the index is being built. */
const BATCH_SESSIONS = 16;
/** Entries that are looked through at once for the sessions they touch. */
const BATCH_ENTRIES = 2000;
/** Sessions whose deviations are read again in one transaction. */
const BATCH_READINGS = 200;

export function catchUp(db: IndexFile, ledger: LedgerReader, limits: Limits): CatchUp {
  const store: SessionStore = sessionStore(db);
  const moveUpto = db.prepare('UPDATE about SET upto_seq = ?, upto_hash = ?');
  const moveBack = db.prepare('UPDATE about SET back_to_seq = ?');
  let { uptoSeq, backToSeq, limitsNumber } = aboutOf(db);

  function put(sessions: readonly OpenedSession[]): void {
    for (const session of sessions) store.put(keptSession(session, ledger.read(session), limits), limitsNumber);
  }

  /** The entries after `uptoSeq`, in order. */
  function forward(): boolean {
    const head = ledger.head();
    if (head.seq <= uptoSeq) return false;
    const next = Math.min(head.seq, uptoSeq + BATCH_ENTRIES);
    const hash = ledger.hashAt(next);
    if (hash === null) throw new Error(`entry ${next} of the ledger is missing`);
    db.transaction(() => {
      put(ledger.touched(uptoSeq, next));
      moveUpto.run(next, hash);
    })();
    uptoSeq = next;
    return true;
  }

  /** The sessions opened before `backToSeq`, the newest of them first. */
  function back(): boolean {
    const sessions = ledger.openedBefore(backToSeq, BATCH_SESSIONS);
    const last = sessions.at(-1);
    if (last === undefined) return false;
    db.transaction(() => {
      put(sessions);
      moveBack.run(last.firstSeq);
    })();
    backToSeq = last.firstSeq;
    return true;
  }

  let inLedger = { headSeq: -1, sessions: 0 };

  /** Counted anew only where there are entries that were not there the last time. */
  function sessionsIn(headSeq: number): number {
    if (inLedger.headSeq !== headSeq) inLedger = { headSeq, sessions: ledger.sessions() };
    return inLedger.sessions;
  }

  const readAgain = (): boolean => db.transaction(() => store.readAgain(limits, limitsNumber, BATCH_READINGS) > 0)();

  return {
    step: () => forward() || readAgain() || back(),
    known: (sessionId) => {
      const kept = store.get(sessionId);
      const session = kept === null ? ledger.session(sessionId) : null;
      if (session === null) return kept;
      db.transaction(() => put([session]))();
      return store.get(sessionId);
    },
    indexed: () => {
      const { sessions, otherLimits } = store.counts(limitsNumber);
      return { sessions, readings: sessions - otherLimits, of: sessionsIn(ledger.head().seq), uptoSeq };
    },
  };
}
