import type { SessionMeasures } from '../../../core/ledger/measures.ts';
import type { EntryView } from '../../../core/protocol/messages.ts';
import { clockTime, minutesSeconds, recordTime } from '../../../core/time/show.ts';
import { Row } from '../room/row.tsx';

interface EntryLineProps {
  readonly entry: EntryView;
  readonly t0: SessionMeasures['t0'];
  readonly here: boolean;
  readonly opened: boolean;
  readonly onHere: () => void;
}

/** One entry: its number, time of day, time from T0, author, and what it says. */
export function EntryLine({ entry, t0, here, opened, onHere }: EntryLineProps) {
  const { seq, wallMs, offsetMin, by, words } = entry;
  return (
    <Row look="entry-row" here={here} opened={opened} onPress={onHere}>
      <span className="row-seq">{seq}</span>
      <span className="row-ink">
        {clockTime(wallMs, offsetMin, true)} {zoneOf(wallMs, offsetMin)}
      </span>
      <span className="row-t0">{fromT0(entry, t0)}</span>
      <span>{by.role === 'station' ? 'station' : `${by.initials}, ${by.role}`}</span>
      <span className="row-ink row-words">{words}</span>
      {opened && <EntryPayload entry={entry} />}
    </Row>
  );
}

/** Minutes and seconds from T0 as it was finally stated; nothing where the continuous clock was another. */
function fromT0({ continuousMs, boot }: EntryView, t0: SessionMeasures['t0']): string {
  if (t0 === null || boot !== t0.boot) return '';
  const { text } = minutesSeconds(-Math.abs(continuousMs - t0.continuousMs));
  return `${continuousMs < t0.continuousMs ? '−' : '+'}${text}`;
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
