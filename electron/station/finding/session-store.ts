import type { z } from 'zod';
import type { SessionMeasures } from '../../../core/ledger/measures.ts';
import { type SessionRow, sessionRowSchema } from '../../../core/protocol/finding.ts';
import { sessionMeasuresSchema } from '../../../core/protocol/measures.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import { marksOf } from './facets.ts';
import { type IndexFile, NotAsKept } from './index-file.ts';
import { judged, type KeptSession, type MeasuredSession } from './kept-session.ts';

/** The sessions that are kept in an index. Callers put several changes into one transaction. */
export interface SessionStore {
  put(kept: KeptSession, limitsNumber: number): void;
  /** Null where the session is not in the index yet. */
  get(sessionId: string): MeasuredSession | null;
  /** How many there are, and how many of them were read by other limits. */
  counts(limitsNumber: number): { readonly sessions: number; readonly otherLimits: number };
  /** Reads the deviations of some sessions again, from what is kept of them. Returns how many. */
  readAgain(limits: Limits, limitsNumber: number, most: number): number;
}

interface Kept {
  readonly first_seq: number;
  readonly shown: string;
  readonly withheld: number;
  readonly measures: string | null;
}

const KEPT = 'SELECT first_seq, shown, withheld, measures FROM sessions LEFT JOIN measures USING (first_seq)';

export function sessionStore(db: IndexFile): SessionStore {
  const insert = db.prepare('INSERT INTO sessions VALUES (?, ?, ?, ?, ?, ?, ?, ?)');
  const remove = db.prepare('DELETE FROM sessions WHERE first_seq = ?');
  const insertMeasures = db.prepare('INSERT OR REPLACE INTO measures VALUES (?, ?)');
  const insertMark = db.prepare('INSERT INTO marks VALUES (?, ?, ?, ?)');
  const removeMark = db.prepare(
    'DELETE FROM marks WHERE kind = ? AND value = ? AND opened_wall_ms = ? AND first_seq = ?',
  );
  const shownOf = db.prepare<[number], { shown: string }>('SELECT shown FROM sessions WHERE first_seq = ?');
  const one = db.prepare<[string], Kept>(`${KEPT} WHERE session_id = ?`);
  const count = db.prepare<[], number>('SELECT count(*) FROM sessions').pluck();
  const countOf = db.prepare<[number], number>('SELECT count(*) FROM sessions WHERE limits_number = ?').pluck();
  const readBefore = db.prepare<[number, number], Kept>(`${KEPT} WHERE limits_number < ? LIMIT ?`);

  /** Counted when it is asked for after a change, and kept until the next. */
  let counted: { readonly sessions: number; readonly otherLimits: number } | null = null;

  function write({ row, clinic, withheld }: KeptSession, limitsNumber: number): void {
    const { firstSeq, sessionId, openedWallMs, patientCode } = row;
    counted = null;
    const shown = JSON.stringify(row);
    const figures = clinic === null ? null : JSON.stringify(clinic);
    insert.run(firstSeq, sessionId, openedWallMs, patientCode, shown, figures, withheld ? 1 : 0, limitsNumber);
    for (const { kind, value } of marksOf(row)) insertMark.run(kind, value, openedWallMs, firstSeq);
  }

  function takeOut(firstSeq: number): void {
    const before = shownOf.get(firstSeq);
    if (before === undefined) return;
    const row = rowIn(before.shown);
    for (const { kind, value } of marksOf(row)) removeMark.run(kind, value, row.openedWallMs, firstSeq);
    remove.run(firstSeq);
  }

  return {
    put: (kept, limitsNumber) => {
      takeOut(kept.row.firstSeq);
      write(kept, limitsNumber);
      if (kept.measures !== null) insertMeasures.run(kept.row.firstSeq, JSON.stringify(kept.measures));
    },
    get: (sessionId) => {
      const found = one.get(sessionId);
      return found === undefined ? null : measuredIn(found);
    },
    counts: (limitsNumber) => {
      const sessions = counted?.sessions ?? count.get() ?? 0;
      counted ??= { sessions, otherLimits: sessions - (countOf.get(limitsNumber) ?? 0) };
      return counted;
    },
    readAgain: (limits, limitsNumber, most) => {
      const some = readBefore.all(limitsNumber, most).map(measuredIn);
      for (const measured of some) {
        takeOut(measured.row.firstSeq);
        write(judged(measured, limits), limitsNumber);
      }
      return some.length;
    },
  };
}

/** @throws NotAsKept */
export const rowIn = (shown: string): SessionRow => kept(shown, sessionRowSchema);

const measuredIn = ({ shown, withheld, measures }: Kept): MeasuredSession => ({
  row: rowIn(shown),
  withheld: withheld === 1,
  measures: measures === null ? null : measuresIn(measures),
});

const measuresIn = (text: string): SessionMeasures => kept(text, sessionMeasuresSchema);

function kept<T>(text: string, schema: z.ZodType<T>): T {
  try {
    return schema.parse(JSON.parse(text));
  } catch (error) {
    throw new NotAsKept(`the index holds what it was not given: ${error instanceof Error ? error.message : error}`);
  }
}
