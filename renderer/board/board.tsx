import { clockTime } from '../../core/time/show.ts';
import { CueLine } from '../cues/cue-line.tsx';
import { useFront, useLink, useLinkTrouble, useNow, useSnapshot } from '../link/store.ts';
import { useSay } from '../words/use-say.ts';
import { BoardFace } from './board-face.tsx';
import { boardNotices, withAsked } from './notices.ts';
import { useBoardKeys } from './use-board-keys.ts';

/** Often enough for a tenth of a J/cm2. A whole number of these is a second, so that seconds flip at their instant. */
const DRAW_EVERY_MS = 100;

/** The second monitor: one number, read from 3 m in the dark. Nothing on it has to be pressed. */
export function Board() {
  const snapshot = useSnapshot();
  const front = useFront();
  const link = useLink();
  const trouble = useLinkTrouble();
  const { main, second } = front?.board ?? NO_COUNTS;
  useNow(DRAW_EVERY_MS, main?.dueAtMs ?? 0);
  const nowMs = useNow(DRAW_EVERY_MS, second?.dueAtMs ?? 0);
  const clock = snapshot && clockTime(snapshot.wallMs + nowMs - snapshot.nowMs, snapshot.offsetMin);
  const say = useSay();
  const keys = useBoardKeys(say);
  const all = boardNotices({ snapshot, front, silent: !link.up || link.stale, trouble, nowMs, say });
  const notices = withAsked(all, keys, say);
  const placed = snapshot?.settings ?? null;
  return <BoardFace view={front} nowMs={nowMs} clock={clock} notices={notices} placed={placed} cue={<CueLine />} />;
}

const NO_COUNTS = { main: null, second: null };
