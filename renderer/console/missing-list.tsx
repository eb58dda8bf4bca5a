import type { OpeningView } from '../../core/protocol/view.ts';
import { minutesSeconds } from '../../core/time/show.ts';
import { useNow } from '../link/store.ts';
import { Glyph } from '../parts/glyph.tsx';
import './missing.css';

/** What a step waits for, each as a sentence; what comes by itself says in how long. */
export function MissingList({ missing }: { missing: OpeningView['missing'] }) {
  return (
    <ul className={missing.length > 3 ? 'missing-list missing-list-many' : 'missing-list'}>
      {missing.map(({ text, untilAtMs }) => (
        <li key={text} className="missing">
          <Glyph name="missing" />
          <span>
            {text}
            {untilAtMs !== null && <Until atMs={untilAtMs} />}
          </span>
        </li>
      ))}
    </ul>
  );
}

function Until({ atMs }: { atMs: number }) {
  const { over, text } = minutesSeconds(atMs - useNow());
  return <span aria-hidden="true">{over ? ': now' : `: ${text} to go`}</span>;
}
