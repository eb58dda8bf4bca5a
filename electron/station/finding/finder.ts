import { deviationsOf } from '../../../core/ledger/deviations.ts';
import type { ClinicFilter } from '../../../core/ledger/find-filter.ts';
import { WITHHELD } from '../../../core/procedure/blind.ts';
import type { ClinicReading, Indexed, SessionReading } from '../../../core/protocol/finding.ts';
import type { Message, Request } from '../../../core/protocol/messages.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import { type CatchUp, catchUp } from './catch-up.ts';
import { clinicReading, clinicSessions } from './clinic-reading.ts';
import { find } from './find.ts';
import { type IndexFile, indexFileOf, isUnusable, openIndex, throwAway } from './index-file.ts';
import { ledgerReader } from './ledger-reader.ts';

/** What is answered from the index, or from what it is made of. */
export type FindRequest = Extract<Request, { type: 'find' | 'reading' | 'clinic' }>;

/** Answers from a ledger's index, and keeps it up. */
export interface Finder {
  /** @throws Error where the ledger or its index can be read no more. */
  answer(request: FindRequest): Message;
  /** Does one batch of what the index lacks. Returns false where it lacks nothing. */
  step(): boolean;
  close(): void;
}

/** How long an answer waits for what the index lacks; of a ledger that is not long, it lacks nothing then. */
const FRESH_WITHIN_MS = 200;

interface Opened {
  readonly db: IndexFile;
  readonly catchUp: CatchUp;
}

export function finder(ledgerFile: string, limits: Limits): Finder {
  const file = indexFileOf(ledgerFile);
  const ledger = ledgerReader(ledgerFile);
  let opened: Opened | null = null;

  /** Null while the ledger has no first entry. */
  function open(): Opened | null {
    if (opened !== null) return opened;
    const identity = ledger.identity();
    if (identity === null) return null;
    const db = openIndex(file, ledger, identity, limits);
    opened = { db, catchUp: catchUp(db, ledger, limits) };
    return opened;
  }

  /** Damage that shows only now: the index is thrown away, and begun anew. */
  function mended<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      if (!isUnusable(error)) throw error;
      opened?.db.close();
      opened = null;
      throwAway(file);
      return work();
    }
  }

  function answer(request: FindRequest): Message {
    const { requestId } = request;
    const index = open();
    freshen(index);
    switch (request.type) {
      case 'find':
        return { type: 'found', requestId, ...foundIn(index, request) };
      case 'reading':
        return { type: 'reading', requestId, ...readingOf(request.sessionId, index, limits) };
      case 'clinic':
        return { type: 'clinic', requestId, ...clinicIn(index, request.filter, limits) };
    }
  }

  return {
    answer: (request) => mended(() => answer(request)),
    step: () => mended(() => open()?.catchUp.step() ?? false),
    close: () => {
      opened?.db.close();
      ledger.close();
    },
  };
}

/** Where it cannot be brought up, for example because the disk is full, the index still knows what it knew. */
function freshen(index: Opened | null): void {
  const untilMs = performance.now() + FRESH_WITHIN_MS;
  try {
    while (index?.catchUp.step() && performance.now() < untilMs);
  } catch (error) {
    if (isUnusable(error)) throw error;
    console.error(
      `station: the index for finding is not up to date: ${error instanceof Error ? error.message : error}`,
    );
  }
}

const NOTHING_INDEXED: Indexed = { sessions: 0, readings: 0, of: 0, uptoSeq: 0 };

function foundIn(index: Opened | null, { filter, cursor, limit }: Extract<FindRequest, { type: 'find' }>) {
  if (index === null) {
    return { rows: [], more: false, next: null, total: { sessions: 0, atLeast: false }, indexed: NOTHING_INDEXED };
  }
  return { ...find(index.db, filter, cursor, limit), indexed: index.catchUp.indexed() };
}

function clinicIn(index: Opened | null, filter: ClinicFilter, limits: Limits): ClinicReading {
  if (index === null) return { ...clinicReading([], limits), indexed: NOTHING_INDEXED };
  return { ...clinicReading(clinicSessions(index.db, filter), limits), indexed: index.catchUp.indexed() };
}

function readingOf(sessionId: string, index: Opened | null, limits: Limits): SessionReading {
  const nothing = (says: string): SessionReading => ({ sessionId, measures: null, deviations: [], says });
  const kept = index?.catchUp.known(sessionId) ?? null;
  if (kept === null) return nothing('there is no such session in this ledger');
  if (kept.measures === null) return nothing(kept.row.trouble ?? 'its entries cannot be read');
  if (kept.withheld) return nothing(kept.row.trouble ?? WITHHELD);
  return {
    sessionId,
    measures: kept.measures as SessionReading['measures'],
    deviations: deviationsOf(kept.measures, limits),
    says: null,
  };
}
