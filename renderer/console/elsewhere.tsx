import type { SessionView } from '../../core/protocol/view.ts';
import { minutesSeconds } from '../../core/time/show.ts';
import { useNow } from '../link/store.ts';
import { Glyph } from '../parts/glyph.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import './elsewhere.css';

/** A line about the sessions that are not in front: what each is at, and what comes due there next. */
export function Elsewhere({ others, onPress }: { others: readonly SessionView[]; onPress: () => void }) {
  if (others.length === 0) return null;
  return (
    <button type="button" className="elsewhere" onClick={onPress}>
      <KeyCap cap="O" />
      {others.map((view) => (
        <span key={view.sessionId} className="elsewhere-one">
          <span className="elsewhere-name" translate={view.patient === null ? undefined : 'no'}>
            {view.patient?.patientCode ?? 'no patient yet'}
          </span>
          {` · ${view.stateWords}`}
          <NextDue view={view} />
        </span>
      ))}
    </button>
  );
}

function NextDue({ view }: { view: SessionView }) {
  const nowMs = useNow(250);
  const { main, second } = view.board;
  const counts = [main, second].flatMap((count) =>
    count?.dueAtMs == null ? [] : [{ ...count, dueAtMs: count.dueAtMs }],
  );
  const [next] = counts.sort((one, other) => one.dueAtMs - other.dueAtMs);
  if (next === undefined) return null;
  const { over, text } = minutesSeconds(next.dueAtMs - nowMs);
  return (
    <>
      {' · '}
      {over ? (
        <span className="elsewhere-over">
          <Glyph name="missing" /> {next.pastWords}, since {text}
        </span>
      ) : (
        `${next.words} ${text}`
      )}
    </>
  );
}
