import { useEffect, useRef, useState } from 'react';
import type { FindFilter } from '../../../core/ledger/find-filter.ts';
import type { FoundSessions, Indexed, SessionRow } from '../../../core/protocol/finding.ts';
import { askFind } from '../../link/requests.ts';
import { useLink, useSnapshot } from '../../link/store.ts';

/** Sessions that answer to a filter, as far as they have been asked for. */
export interface FoundList {
  readonly rows: readonly SessionRow[];
  /** Null before the first answer. */
  readonly total: FoundSessions['total'] | null;
  readonly indexed: Indexed | null;
  readonly more: boolean;
  /** Why there is no answer. */
  readonly trouble: string | null;
  /** Asks for the next page. */
  readonly next: () => void;
}

const PAGE_ROWS = 50;
/** How often the list is asked for anew while the index is being built. */
const BUILDING_MS = 1_500;

const isBuilding = ({ sessions, readings, of }: Indexed): boolean => sessions < of || readings < sessions;

/** Follows the ledger: asked for anew when something is written, and while the index is being built. */
export function useFound(filter: FindFilter): FoundList {
  const { up } = useLink();
  const writtenSeq = useSnapshot()?.written?.seq;
  const asked = JSON.stringify(filter);
  const [found, setFound] = useState<{ readonly of: string; readonly page: FoundSessions } | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [look, setLook] = useState(0);
  const underWay = useRef('');

  // biome-ignore lint/correctness/useExhaustiveDependencies: also when something was written, or the link came back
  useEffect(() => {
    let current = true;
    let again: ReturnType<typeof setTimeout> | undefined;
    void askFind(JSON.parse(asked), null, PAGE_ROWS).then((answer) => {
      if (!current) return;
      if (answer.type === 'error') return setTrouble(answer.says);
      setTrouble(null);
      setFound((before) => ({ of: asked, page: before?.of === asked ? renewed(before.page, answer) : answer }));
      if (isBuilding(answer.indexed)) again = setTimeout(() => setLook((count) => count + 1), BUILDING_MS);
    });
    return () => {
      current = false;
      clearTimeout(again);
    };
  }, [asked, up, writtenSeq, look]);

  const page = found?.of === asked ? found.page : null;

  function next(): void {
    if (page === null || !page.more || page.next === null) return;
    const place = `${asked} ${page.next.firstSeq}`;
    if (underWay.current === place) return;
    underWay.current = place;
    void askFind(JSON.parse(asked), page.next, PAGE_ROWS).then((answer) => {
      underWay.current = '';
      if (answer.type === 'error') return setTrouble(answer.says);
      setFound((before) => (before?.of === asked ? { of: asked, page: lengthened(before.page, answer) } : before));
    });
  }

  return {
    rows: page?.rows ?? [],
    total: page?.total ?? null,
    indexed: page?.indexed ?? null,
    more: page?.more ?? false,
    trouble,
    next,
  };
}

/** The first page anew, and behind it what was known already: nobody loses the place they have come to. */
function renewed(before: FoundSessions, first: FoundSessions): FoundSessions {
  const last = first.rows.at(-1);
  const behind = last === undefined || !first.more ? [] : before.rows.filter((row) => isBehind(row, last));
  if (behind.length === 0) return first;
  return { ...first, rows: [...first.rows, ...behind], more: before.more, next: before.next };
}

function lengthened(before: FoundSessions, page: FoundSessions): FoundSessions {
  const last = before.rows.at(-1);
  const fresh = last === undefined ? page.rows : page.rows.filter((row) => isBehind(row, last));
  return { ...page, rows: [...before.rows, ...fresh] };
}

const isBehind = (row: SessionRow, last: SessionRow): boolean =>
  row.openedWallMs < last.openedWallMs || (row.openedWallMs === last.openedWallMs && row.firstSeq < last.firstSeq);
