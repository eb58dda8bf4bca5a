import type { FindFilter } from '../../../core/ledger/find-filter.ts';
import type { Indexed, SessionRow } from '../../../core/protocol/finding.ts';
import { useSnapshot } from '../../link/store.ts';
import { LedgerHead } from '../ledger-head.tsx';
import { KeyLine } from '../room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { useRowKeys } from '../room/row-keys.ts';
import type { Nameable } from './filter-fields.ts';
import { filterWords } from './read-filter.ts';
import { SessionLine } from './session-line.tsx';
import type { FoundList } from './use-found.ts';
import './find.css';

interface SessionListProps {
  readonly found: FoundList;
  readonly filter: FindFilter;
  readonly names: Nameable;
  /** The session that the keys have led to; null for the first. */
  readonly at: string | null;
  readonly onAt: (row: SessionRow) => void;
  readonly onOpen: (row: SessionRow) => void;
  readonly keys: readonly RoomKey[];
}

/** Sessions that answer to what is asked, newest first. */
export function SessionList({ found, filter, names, at, onAt, onOpen, keys }: SessionListProps) {
  const written = useSnapshot()?.written;
  const { rows, more, next, trouble, total } = found;
  const index = Math.max(
    0,
    rows.findIndex(({ sessionId }) => sessionId === at),
  );
  useRoomKeys(keys);
  const told = useRowKeys({
    at: index,
    rows: rows.length,
    onAt: (to) => {
      const row = rows[to];
      if (row !== undefined) onAt(row);
      if (to >= rows.length - 2 && more) next();
    },
    enter: {
      words: 'read it',
      does: (to) => {
        const row = rows[to];
        if (row !== undefined) onOpen(row);
      },
    },
  });
  return (
    <>
      <p className="found-line">
        <span className="row-ink">{totalWords(found)}</span> {askedWords(filter, names)}{' '}
        <span className="found-index">{found.indexed !== null && indexWords(found.indexed)}</span>
      </p>
      {trouble !== null && <p className="missing">{trouble}</p>}
      {total?.sessions === 0 && <p className="ledger-none">{noneWords(filter)}</p>}
      <ol className="rows" aria-label="sessions">
        {rows.map((row, place) => (
          <li key={row.sessionId}>
            <SessionLine row={row} here={place === index} onOpen={() => onOpen(row)} />
          </li>
        ))}
      </ol>
      <KeyLine keys={keys} told={told} />
      {written != null && <LedgerHead written={written} />}
    </>
  );
}

export function totalWords({ total, rows, trouble }: FoundList): string {
  if (total === null) return trouble === null ? 'looking' : 'not looked';
  const { sessions, atLeast } = total;
  const count = sessions.toLocaleString('en-GB');
  const shown = rows.length < sessions ? `, ${rows.length} of them shown` : '';
  return `${atLeast ? 'at least ' : ''}${count} ${sessions === 1 ? 'session' : 'sessions'}${shown}`;
}

function askedWords(filter: FindFilter, names: Nameable): string {
  const words = filterWords(filter, names);
  return words.length === 0 ? '· everything, newest first' : `· ${words.join(' · ')}`;
}

/** How far the index is; nothing once it has everything. */
function indexWords({ sessions, readings, of }: Indexed): string {
  if (sessions < of) {
    const share = Math.floor((sessions / of) * 100);
    return `the index is being built: ${sessions.toLocaleString('en-GB')} of ${of.toLocaleString('en-GB')} sessions, ${share} %`;
  }
  return readings < sessions ? 'the limits have changed: deviations are being read anew' : '';
}

const noneWords = (filter: FindFilter): string =>
  Object.keys(filter).length === 0
    ? 'no session was ever opened in this ledger'
    : 'no session answers to all of that: Backspace asks for everything again';
