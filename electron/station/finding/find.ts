import type { FindCursor, FindFilter } from '../../../core/ledger/find-filter.ts';
import type { FoundSessions } from '../../../core/protocol/finding.ts';
import { findPlan } from './find-query.ts';
import type { IndexFile } from './index-file.ts';
import { rowIn } from './session-store.ts';

/** Counting ends here: an answer that says "at least" is enough for what is to be narrowed down anyway. */
export const COUNT_AT_MOST = 10_000;

/** One page of the sessions that answer to a filter, newest first, and how many do in all. */
export function find(
  db: IndexFile,
  filter: FindFilter,
  cursor: FindCursor | null,
  limit: number,
): Omit<FoundSessions, 'indexed'> {
  const plan = findPlan(db, filter);
  const page = plan.page('shown', cursor, limit + 1);
  const found = db
    .prepare<(string | number)[], string>(page.sql)
    .pluck()
    .all(...page.bound);
  const rows = found.slice(0, limit).map(rowIn);
  const more = found.length > limit;
  const last = rows.at(-1);
  return {
    rows,
    more,
    next: more && last !== undefined ? { openedWallMs: last.openedWallMs, firstSeq: last.firstSeq } : null,
    total: totalOf(db, plan.count(COUNT_AT_MOST)),
  };
}

function totalOf(db: IndexFile, { sql, bound }: ReturnType<ReturnType<typeof findPlan>['count']>) {
  const sessions =
    db
      .prepare<(string | number)[], number>(sql)
      .pluck()
      .get(...bound) ?? 0;
  return { sessions, atLeast: sessions >= COUNT_AT_MOST };
}
