import type { Entry } from '../../core/ledger/entry.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { guideOf } from '../../core/practice/guide.ts';
import type { Guide, ReviewLine } from '../../core/practice/guide-schema.ts';
import { reviewOf } from '../../core/practice/review.ts';
import { toThrowNow } from '../../core/practice/throwing.ts';
import { PRACTICE_TROUBLE, type Thrown, thrownInto } from '../../core/practice/thrown.ts';
import { scaleKgFor } from '../../core/practice/wrong-weight.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type SessionRecord, stateOf } from '../../core/procedure/record.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { Clock } from './clock.ts';
import type { Desk } from './desk.ts';
import type { Ledger } from './steadfast-ledger.ts';

export interface Guiding {
  /** Throws what is due into the session in front: nobody could meet what they do not see. Whether anything was. */
  look(): boolean;
  guide(record: SessionRecord, view: SessionView): Guide;
}

/**
 * Guided practice: what is thrown in is an entry about the station and never one of the session, whose own entries stay
 * what people and clock brought. What was thrown before a restart is read from the ledger.
 */
export function guidingOf({ desk, ledger, clock }: { desk: Desk; ledger: Ledger; clock: Clock }): Guiding {
  const entries: Entry[] = ledger.allOfKind(PRACTICE_TROUBLE);
  let reviewed: { readonly of: string; readonly lines: ReviewLine[] } | null = null;

  function look(): boolean {
    const record = desk.inFront();
    if (record === null) return false;
    const at = clock.now();
    const known = thrownInto(record, entries).map(({ trouble }) => trouble);
    const trouble = toThrowNow(record, known, at.continuousMs);
    if (trouble === null) return false;
    const scaleKg = trouble.id === 'wrong-weight' ? scaleKgFor(record) : null;
    const payload = {
      sessionId: record.sessionId,
      trouble: trouble.id,
      rate: clock.rate,
      ...(scaleKg === null ? {} : { scaleKg }),
    };
    const by = STATION_AUTHOR;
    entries.push(ledger.append({ sessionId: null, kind: PRACTICE_TROUBLE, payload, at, by, commandId: null }));
    return true;
  }

  function guide(record: SessionRecord, view: SessionView): Guide {
    const thrown = thrownInto(record, entries);
    const review = stateOf(record) === 'discharged' ? reviewOnce(record, view.seq, thrown) : null;
    return guideOf(record, view, thrown, clock.now().continuousMs, review);
  }

  /** A session that is over changes only by an addendum: it is not read anew every second. */
  function reviewOnce(record: SessionRecord, seq: number, thrown: readonly Thrown[]): ReviewLine[] {
    const of = `${record.sessionId} ${seq}`;
    if (reviewed?.of !== of) {
      const measures = measuresOf(ledger.entriesOf(record.sessionId));
      const { limits } = desk.settings;
      reviewed = { of, lines: reviewOf({ record, measures, thrown, limits, rate: clock.rate }) };
    }
    return reviewed.lines;
  }

  return { look, guide };
}
