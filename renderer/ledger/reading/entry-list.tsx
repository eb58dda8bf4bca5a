import { useState } from 'react';
import type { SessionMeasures } from '../../../core/ledger/measures.ts';
import { KeyLine } from '../room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { useRowKeys } from '../room/row-keys.ts';
import { EntryLine } from './entry-line.tsx';
import type { Entries } from './use-entries.ts';

interface EntryListProps {
  readonly entries: Entries;
  readonly t0: SessionMeasures['t0'];
  readonly at: number | null;
  readonly onAt: (seq: number) => void;
  readonly onAddendum: () => void;
  readonly keys: readonly RoomKey[];
}

/** The entries of one session, in the order in which they were written. */
export function EntryList({ entries, t0, at, onAt, onAddendum, keys }: EntryListProps) {
  const { rows } = entries;
  const [opened, setOpened] = useState(false);
  const index = Math.max(
    0,
    rows.findIndex(({ seq }) => seq === at),
  );
  const told = useRowKeys({
    at: index,
    rows: rows.length,
    onAt: (to) => onAt(rows[to]?.seq ?? 0),
    enter: {
      words: opened ? 'hide what it holds' : 'show what it holds',
      does: () => setOpened((now) => !now),
    },
  });
  const addendum: RoomKey = { key: 'a', cap: 'A', words: 'addendum to this entry', does: onAddendum };
  useRoomKeys([addendum]);
  return (
    <>
      <ol className="rows" aria-label="entries">
        {rows.map((entry, place) => (
          <li key={entry.seq}>
            <EntryLine
              entry={entry}
              t0={t0}
              here={place === index}
              opened={opened && place === index}
              onHere={() => onAt(entry.seq)}
            />
          </li>
        ))}
      </ol>
      <KeyLine keys={[addendum, ...keys]} told={told} />
    </>
  );
}
