import { type Cue, cuesOf } from '../../core/procedure/cues.ts';
import type { Snapshot } from '../../core/protocol/messages.ts';
import { send } from '../link/connection.ts';
import type { CueOutcome } from './cue-clock.ts';

/** A report that shows no effect for so long is sent again: the station may have been away. It is entered once. */
const AGAIN_AFTER_MS = 3_000;

interface Report {
  readonly outcome: CueOutcome;
  sentAtMs: number;
}

/** Tells the station what became of each cue, until its snapshots show that it knows. */
export function outcomeReports(pageNowMs: () => number) {
  const reports = new Map<string, Report>();

  function say(report: Report): void {
    const { cue, outcome, lateMs } = report.outcome;
    report.sentAtMs = pageNowMs();
    send({
      type: 'cue',
      requestId: crypto.randomUUID(),
      sessionId: cue.sessionId,
      cue: cue.id,
      dueAtMs: cue.dueAtMs,
      outcome,
      lateMs,
    });
  }

  return {
    tell(outcome: CueOutcome): void {
      const report = { outcome, sentAtMs: 0 };
      reports.set(outcome.cue.key, report);
      say(report);
    },
    /** A cue that is in the list no more is known, or is over. */
    follow({ sessions }: Snapshot): void {
      const listed = new Set(sessions.flatMap(cuesOf).map(({ key }: Cue) => key));
      for (const [key, report] of reports) {
        if (!listed.has(key)) reports.delete(key);
        else if (pageNowMs() - report.sentAtMs > AGAIN_AFTER_MS) say(report);
      }
    },
  };
}
