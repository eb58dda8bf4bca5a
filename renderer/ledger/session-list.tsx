import { useEffect, useRef } from 'react';
import { STATE_WORDS } from '../../core/procedure/states.ts';
import type { SessionRow } from '../../core/protocol/messages.ts';
import { calendarDate, clockTime } from '../../core/time/show.ts';
import { askSessions } from '../link/requests.ts';
import { useLink, useSnapshot } from '../link/store.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import { useKeys } from '../parts/use-keys.ts';
import { rowAfter, usePages } from './paging.ts';

const PAGE_ROWS = 50;

interface SessionListProps {
  readonly at: number;
  readonly onAt: (at: number) => void;
  readonly onOpen: (row: SessionRow) => void;
  readonly inside: boolean;
}

/** Every session, newest first. */
export function SessionList({ at, onAt, onOpen, inside }: SessionListProps) {
  const snapshot = useSnapshot();
  const { up } = useLink();
  const known = snapshot?.sessions.map(({ sessionId }) => sessionId).join(' ');
  const { rows, more, next, trouble, asked } = usePages(sessionsAfter, `${up} ${known}`);
  useKeys((event) => {
    const to = rowAfter(event.key, at, rows.length);
    const row = rows[at];
    if (to !== null) {
      event.preventDefault();
      onAt(to);
      if (to === rows.length - 1 && more) next();
    } else if (event.key === 'Enter' && !event.repeat && row !== undefined) {
      event.preventDefault();
      onOpen(row);
    }
  });
  return (
    <>
      <h1 className="title">ledger</h1>
      <p className="ledger-keys">
        <KeyCap cap="↑" /> <KeyCap cap="↓" /> choose <KeyCap cap="Enter" /> its entries
        {inside && (
          <>
            {' '}
            <KeyCap cap="Esc" /> back
          </>
        )}
      </p>
      {snapshot?.written != null && <LedgerHead seq={snapshot.written.seq} hash={snapshot.written.hash} />}
      {trouble !== null && <p className="missing">{trouble}</p>}
      {asked && rows.length === 0 && <p className="ledger-none">no session was ever opened in this ledger</p>}
      <ol className="rows" aria-label="sessions">
        {rows.map((row, index) => (
          <li key={row.sessionId}>
            <SessionLine row={row} here={index === at} onOpen={() => onOpen(row)} />
          </li>
        ))}
      </ol>
      {more && <p className="ledger-none">older ones follow below</p>}
    </>
  );
}

/** The last entry of all, as an anchor names it: written down elsewhere, it shows whether entries went missing. */
function LedgerHead({ seq, hash }: { seq: number; hash: string }) {
  return (
    <p className="ledger-head">
      head: entry <span className="row-ink">{seq}</span> · sha-256 <span className="ledger-hash">{hash}</span>
    </p>
  );
}

async function sessionsAfter(last: SessionRow | null) {
  const answer = await askSessions(last?.firstSeq ?? null, PAGE_ROWS);
  return answer.type === 'error' ? answer.says : answer;
}

function SessionLine({ row, here, onOpen }: { row: SessionRow; here: boolean; onOpen: () => void }) {
  const line = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (here) line.current?.scrollIntoView({ block: 'nearest' });
  }, [here]);
  return (
    <button ref={line} type="button" className="row session-row" data-here={here} aria-current={here} onClick={onOpen}>
      <span>{calendarDate(row.openedWallMs, row.offsetMin)}</span>
      <span>{clockTime(row.openedWallMs, row.offsetMin)}</span>
      <span className="row-ink">{row.patientCode ?? 'no patient'}</span>
      <span>
        {STATE_WORDS[row.state]}
        {row.practice ? ' · practice' : ''}
      </span>
      <span className="row-end">
        {row.entries} {row.entries === 1 ? 'entry' : 'entries'}
      </span>
    </button>
  );
}
