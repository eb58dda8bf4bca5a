import type { Snapshot } from '../../core/protocol/messages.ts';
import { clockTime } from '../../core/time/show.ts';
import { notSafeWords } from '../parts/not-safe-words.ts';
import './station-notices.css';

/** What is wrong with the station or its files, framed below the head, for as long as it lasts. */
export function StationNotices({ snapshot }: { snapshot: Snapshot | null }) {
  const notices = noticesIn(snapshot);
  if (notices.length === 0) return null;
  return (
    <ul className="station-notices" aria-label="station notices">
      {notices.map((words) => (
        <li key={words} className="station-notice">
          <Warning />
          <span>{words}</span>
        </li>
      ))}
    </ul>
  );
}

function noticesIn(snapshot: Snapshot | null): string[] {
  if (snapshot === null) return [];
  const { notYetSafe, trouble, offsetMin } = snapshot;
  if (notYetSafe === null) return [...trouble];
  const { sinceWallMs, keptAt } = notYetSafe;
  const kept =
    keptAt === null
      ? 'kept in memory only: do not switch this computer off'
      : `kept meanwhile in ${keptAt}: nothing is lost if it stays there`;
  const since = ` since ${clockTime(sinceWallMs, offsetMin, true)}`;
  return [`${notSafeWords(notYetSafe, since)} · ${kept}`, ...trouble];
}

/** A triangle with a stroke in it: said by shape as well as by colour. */
function Warning() {
  return (
    <svg className="station-notice-shape" viewBox="0 0 24 20" aria-hidden="true">
      <path d="M 12 2 L 22.5 18.5 H 1.5 Z M 12 7.5 V 13 M 12 15 V 16.4" />
    </svg>
  );
}
