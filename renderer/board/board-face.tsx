import { type CSSProperties, type ReactNode, useRef } from 'react';
import { UNDER_WAY } from '../../core/procedure/states.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { DayArc } from '../parts/day-arc.tsx';
import { useSay } from '../words/use-say.ts';
import { MainCount, SecondCount } from './board-counts.tsx';
import { BoardHead } from './board-head.tsx';
import { NoticeShape } from './board-shapes.tsx';
import { atMost, NOTICE_LINES, type Notice } from './notices.ts';
import { type BoardPlaced, sizeNotice } from './size-notice.ts';
import { useFontPx } from './use-font-px.ts';
import './board.css';

export interface BoardFaceProps {
  readonly view: SessionView | null;
  readonly nowMs: number;
  /** Time of day; null before the first word from the station. */
  readonly clock: string | null;
  /** In the reader's words. */
  readonly notices: readonly Notice[];
  /** Where the board is read from; null before the first word from the station. */
  readonly placed: BoardPlaced | null;
  /** The cue that was due last, in a line. */
  readonly cue: ReactNode;
}

/** The board of one session, or of none. It asks nobody: what it is given, it shows. */
export function BoardFace({ view, nowMs, clock, notices, placed, cue }: BoardFaceProps) {
  const main = view?.board.main ?? null;
  const number = useRef<HTMLParagraphElement>(null);
  const say = useSay();
  const size = sizeNotice({ fontPx: useFontPx(number), pictureWidthPx: window.innerWidth }, placed);
  const all = size === null ? notices : [...notices, { ...size, words: say(size.words) }];
  return (
    <main className="board">
      <BoardHead view={view} clock={main === null ? null : clock} />
      {view !== null && main !== null ? (
        <MainCount view={view} count={main} nowMs={nowMs} number={number} />
      ) : (
        <Quiet words={view?.board.title ?? (clock === null ? 'waiting for the station' : 'no session')} clock={clock} />
      )}
      <Course view={view} nowMs={nowMs} />
      <div className="board-cue">{cue}</div>
      <footer className="board-notices">
        {atMost(NOTICE_LINES, all, say).map(({ shape, words }) => (
          <p
            key={words}
            className={QUIET_NOTICES.includes(shape) ? 'board-notice' : 'board-notice board-notice-lamp'}
            style={{ '--letters': words.length + 4 } as CSSProperties}
            role={shape === 'keys' ? 'status' : undefined}
            translate="no"
          >
            <NoticeShape shape={shape} />
            {words}
          </p>
        ))}
      </footer>
    </main>
  );
}

const QUIET_NOTICES: readonly Notice['shape'][] = ['other session', 'rule', 'keys'];

/** Where nothing is counted: the state in words that fill the width, and the time of day. */
function Quiet({ words, clock }: { words: string; clock: string | null }) {
  const letters = Math.max(useSay()(words).length, LEAST_LETTERS);
  return (
    <section className="board-quiet" style={{ '--letters': letters } as CSSProperties}>
      <h1 className="board-state">{words}</h1>
      {clock !== null && <p className="board-clock">{clock}</p>}
    </section>
  );
}

/** A short state is not written larger than a longer one by more than this. */
const LEAST_LETTERS = 10;

/** The arc, and below it the second count and what comes next. After the light there is no way left to draw. */
function Course({ view, nowMs }: { view: SessionView | null; nowMs: number }) {
  const second = view?.board.second ?? null;
  const course = view?.course ?? null;
  const drawn = course === null || (view !== null && UNDER_WAY.includes(view.state));
  return (
    <section className="board-course">
      {drawn && (
        <DayArc
          course={course}
          nowMs={nowMs}
          eyes={view?.eyes ?? []}
          lightStartMin={view?.regimen?.lightStartMin ?? null}
          infusionMin={infusionMin(view?.plan ?? null)}
        />
      )}
      {view?.state === 'planning' && view.regimen === null && <p className="board-unknown">{NOT_KNOWN_YET}</p>}
      {second && <SecondCount count={second} nowMs={nowMs} />}
      <Next words={view?.board.next ?? ''} />
    </section>
  );
}

/** Before the order, and while it is withheld from the second person. */
const NOT_KNOWN_YET = 'light window not known yet';

const infusionMin = (plan: SessionView['plan']): number | null =>
  plan && plan.infusate.totalMl / plan.infusate.rateMlPerMin;

function Next({ words }: { words: string }) {
  const say = useSay();
  if (words === '') return null;
  return (
    <p className="board-next" style={{ '--letters': say(words).length + say(NEXT).length } as CSSProperties}>
      <span className="board-quietly">{NEXT}</span> {words}
    </p>
  );
}

const NEXT = 'next:';
