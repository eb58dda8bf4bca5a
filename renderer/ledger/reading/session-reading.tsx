import { useState } from 'react';
import { STATE_WORDS } from '../../../core/procedure/states.ts';
import type { SessionRow } from '../../../core/protocol/finding.ts';
import type { EntryView } from '../../../core/protocol/messages.ts';
import { calendarDate } from '../../../core/time/show.ts';
import { useLink, useSnapshot } from '../../link/store.ts';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { Tabs } from '../room/tabs.tsx';
import { DeviationList } from './deviation-list.tsx';
import { EntryList } from './entry-list.tsx';
import { FigureView } from './figure-view.tsx';
import { useEntries } from './use-entries.ts';
import { useReading } from './use-reading.ts';
import './reading.css';

export const VIEWS = ['entries', 'figure', 'deviations'] as const;
export type View = (typeof VIEWS)[number];

/** A session that is being read, and the place in it that one has come to. */
export interface Reading {
  readonly row: SessionRow;
  readonly view: View;
  /** Of the entry that the keys have led to; null for the first. */
  readonly seq: number | null;
}

interface SessionReadingProps {
  readonly reading: Reading;
  readonly onReading: (reading: Reading) => void;
  /** An addendum is to be written, about an entry; `seenSeq` is the session's last on the screen. */
  readonly onAddendum: (about: EntryView, seenSeq: number) => void;
  readonly keys: readonly RoomKey[];
}

/** One session, read in three ways: its entries, its course as a figure, and where it departs from its plan. */
export function SessionReading({ reading, onReading, onAddendum, keys }: SessionReadingProps) {
  const { row, view, seq } = reading;
  const { up } = useLink();
  const [said, setSaid] = useState('');
  // Whatever is written may be of this session; most of it costs one empty answer.
  const again = `${up} ${useSnapshot()?.written?.seq}`;
  const entries = useEntries(row.sessionId, again);
  const judged = useReading(row.sessionId, again);
  const count = judged?.deviations.length;
  const state = judged?.measures?.state ?? row.state;
  useRoomKeys(keys);

  const go = (to: Partial<Reading>): void => {
    setSaid('');
    onReading({ ...reading, ...to });
  };
  /** A deviation may point at what the station entered for no session: then at what came before it here. */
  const goToEntry = (wanted: number): void => {
    const found = entries.rows.findLast((entry) => entry.seq <= wanted)?.seq ?? null;
    go({ view: 'entries', seq: found });
    if (found !== wanted) setSaid(`entry ${wanted} is the station's own, of no session: this is the one before it`);
  };
  const about = entries.rows.find((entry) => entry.seq === seq) ?? entries.rows[0];
  const writeAddendum = (): void => {
    if (state !== 'discharged') setSaid(`an addendum is for a session that is over: this one is ${STATE_WORDS[state]}`);
    else if (about === undefined) setSaid('its entries are not here yet: press again in a moment');
    else onAddendum(about, entries.rows.at(-1)?.seq ?? about.seq);
  };
  const tabs = VIEWS.map((id) => ({
    id,
    words: id === 'deviations' && count !== undefined ? `${id}: ${count === 0 ? 'none' : count}` : id,
  }));
  return (
    <>
      <header className="reading-head">
        <h2 className="reading-title">
          {row.patientCode ?? 'no patient'}{' '}
          <span className="ledger-date">{calendarDate(row.openedWallMs, row.offsetMin)}</span>{' '}
          <span className="ledger-date">{STATE_WORDS[state]}</span>{' '}
          {row.practice && <span className="practice-mark">PRACTICE, not for a patient</span>}
        </h2>
        <Tabs tabs={tabs} at={view} onGo={(id) => go({ view: id })} label="views of the session" />
      </header>
      {judged !== null && judged.says !== null && <p className="missing">{judged.says}</p>}
      {entries.trouble !== null && <p className="missing">{entries.trouble}</p>}
      {view === 'entries' && (
        <EntryList
          entries={entries}
          t0={judged?.measures?.t0 ?? null}
          at={about?.seq ?? null}
          onAt={(to) => go({ seq: to })}
          onAddendum={writeAddendum}
          keys={keys}
        />
      )}
      {view === 'figure' && <FigureView measures={judged?.measures ?? null} keys={keys} />}
      {view === 'deviations' && (
        <DeviationList deviations={judged?.deviations ?? null} onEntry={goToEntry} keys={keys} />
      )}
      <p className="room-said" role="status">
        {said}
      </p>
    </>
  );
}
