import { useEffect, useRef, useState } from 'react';
import type { EntryView, SessionRow } from '../../core/protocol/messages.ts';
import { calendarDate, clockTime, minutesSeconds, recordTime } from '../../core/time/show.ts';
import { askEntries } from '../link/requests.ts';
import { useLink, useSnapshot } from '../link/store.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import { useKeys } from '../parts/use-keys.ts';
import { rowAfter, usePages } from './paging.ts';

const PAGE_ROWS = 200;

/** The entries of one session, in the order in which they were written. */
export function EntryList({ row, onLeave }: { row: SessionRow; onLeave: () => void }) {
  const view = useSnapshot()?.sessions.find(({ sessionId }) => sessionId === row.sessionId);
  const { up } = useLink();
  const { rows, more, next, trouble } = usePages(entriesOf(row.sessionId), `${up} ${view?.seq}`);
  const [at, setAt] = useState(0);
  const [opened, setOpened] = useState(false);
  useKeys((event) => {
    const to = rowAfter(event.key, at, rows.length);
    if (to !== null) {
      event.preventDefault();
      setAt(to);
      if (to === rows.length - 1 && more) next();
    } else if (event.key === 'Enter' && !event.repeat) {
      event.preventDefault();
      setOpened((now) => !now);
    }
  });
  const t0 = startOf(rows);
  return (
    <>
      <h1 className="title">
        {row.patientCode ?? 'no patient'}{' '}
        <span className="ledger-date">{calendarDate(row.openedWallMs, row.offsetMin)}</span>
      </h1>
      <p className="ledger-keys">
        <KeyCap cap="↑" /> <KeyCap cap="↓" /> choose <KeyCap cap="Enter" /> {opened ? 'hide' : 'show'} what it holds{' '}
        <button type="button" onClick={onLeave}>
          <KeyCap cap="Esc" /> all sessions
        </button>
      </p>
      {trouble !== null && <p className="missing">{trouble}</p>}
      <ol className="rows" aria-label="entries">
        {rows.map((entry, index) => (
          <li key={entry.seq}>
            <EntryLine
              entry={entry}
              t0={t0}
              here={index === at}
              opened={opened && index === at}
              onHere={() => setAt(index)}
            />
          </li>
        ))}
      </ol>
    </>
  );
}

const entriesOf = (sessionId: string) => async (last: EntryView | null) => {
  const answer = await askEntries(sessionId, last?.seq ?? 0, PAGE_ROWS);
  return answer.type === 'error' ? answer.says : answer;
};

interface Start {
  readonly atMs: number;
  readonly boot: string;
}

/** T0 as the entries have it, a late press set back; null before the pump has started. */
function startOf(rows: readonly EntryView[]): Start | null {
  const pressed = rows.find(({ kind }) => kind === 'start-pump');
  if (pressed === undefined) return null;
  const agoS = rows.find(({ kind }) => kind === 'set-back')?.payload.agoS;
  return { atMs: pressed.continuousMs - (typeof agoS === 'number' ? agoS * 1000 : 0), boot: pressed.boot };
}

/** Minutes and seconds from T0; nothing where the continuous clock was another. */
function fromT0(entry: EntryView, t0: Start | null): string {
  if (t0 === null || entry.boot !== t0.boot) return '';
  const { text } = minutesSeconds(-Math.abs(entry.continuousMs - t0.atMs));
  return `${entry.continuousMs < t0.atMs ? '−' : '+'}${text}`;
}

interface EntryLineProps {
  readonly entry: EntryView;
  readonly t0: Start | null;
  readonly here: boolean;
  readonly opened: boolean;
  readonly onHere: () => void;
}

function EntryLine({ entry, t0, here, opened, onHere }: EntryLineProps) {
  const line = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (here || opened) line.current?.scrollIntoView({ block: 'nearest' });
  }, [here, opened]);
  const { seq, wallMs, offsetMin, by, words } = entry;
  return (
    <button ref={line} type="button" className="row entry-row" data-here={here} aria-current={here} onClick={onHere}>
      <span className="row-seq">{seq}</span>
      <span className="row-ink">
        {clockTime(wallMs, offsetMin, true)} {zoneOf(wallMs, offsetMin)}
      </span>
      <span className="row-t0">{fromT0(entry, t0)}</span>
      <span>{by.role === 'station' ? 'station' : `${by.initials}, ${by.role}`}</span>
      <span className="row-ink row-words">{words}</span>
      {opened && <EntryPayload entry={entry} />}
    </button>
  );
}

const zoneOf = (wallMs: number, offsetMin: number): string => recordTime(wallMs, offsetMin).split(' ').at(-1) ?? '';

function EntryPayload({ entry }: { entry: EntryView }) {
  const { wallMs, offsetMin, continuousMs, boot, hash, kind, payload } = entry;
  return (
    <span className="entry-payload">
      <span>
        {kind} · {recordTime(wallMs, offsetMin)} · continuous {Math.round(continuousMs)} ms, boot {boot}
      </span>
      <span className="entry-hash">sha-256 {hash}</span>
      <span className="entry-json">{JSON.stringify(payload, null, 1)}</span>
    </span>
  );
}
