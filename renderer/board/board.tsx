import { clockTime } from '../../core/time/show.ts';
import { CueLine } from '../cues/cue-line.tsx';
import { useFront, useLink, useLinkTrouble, useNow, useSnapshot } from '../link/store.ts';
import { BoardFace } from './board-face.tsx';
import { boardNotices } from './notices.ts';

/** Often enough for a tenth of a J/cm2; whole seconds flip no later than this after their instant. */
const DRAW_EVERY_MS = 100;

/** The second monitor: one number, read from 3 m in the dark. Nothing on it is ever pressed. */
export function Board() {
  const snapshot = useSnapshot();
  const front = useFront();
  const link = useLink();
  const trouble = useLinkTrouble();
  const nowMs = useNow(DRAW_EVERY_MS);
  const clock = snapshot && clockTime(snapshot.wallMs + nowMs - snapshot.nowMs, snapshot.offsetMin);
  const notices = boardNotices({ snapshot, front, silent: !link.up || link.stale, trouble, nowMs });
  const placed = snapshot?.settings ?? null;
  return <BoardFace view={front} nowMs={nowMs} clock={clock} notices={notices} placed={placed} cue={<CueLine />} />;
}
