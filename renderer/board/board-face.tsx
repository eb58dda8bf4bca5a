import type { CSSProperties } from 'react';
import { UNDER_WAY } from '../../core/procedure/states.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { DayArc } from '../parts/day-arc.tsx';
import { MainCount, SecondCount } from './board-counts.tsx';
import { BoardHead } from './board-head.tsx';
import { NoticeShape } from './board-shapes.tsx';
import type { Notice } from './notices.ts';
import './board.css';

interface BoardFaceProps {
  readonly view: SessionView | null;
  readonly nowMs: number;
  /** Time of day; null before the first word from the station. */
  readonly clock: string | null;
  readonly notices: readonly Notice[];
}

/** The board of one session, or of none. It asks nobody: what it is given, it shows. */
export function BoardFace({ view, nowMs, clock, notices }: BoardFaceProps) {
  const main = view?.board.main ?? null;
  return (
    <main className="board">
      <BoardHead view={view} clock={main === null ? null : clock} />
      {view !== null && main !== null ? (
        <MainCount view={view} count={main} nowMs={nowMs} />
      ) : (
        <Quiet words={view?.board.title ?? (clock === null ? 'waiting for the station' : 'no session')} clock={clock} />
      )}
      <Course view={view} nowMs={nowMs} />
      <footer className="board-notices">
        {notices.map(({ shape, words }) => (
          <p key={words} className={shape === 'other session' ? 'board-notice' : 'board-notice board-notice-lamp'}>
            <NoticeShape shape={shape} />
            {words}
          </p>
        ))}
      </footer>
    </main>
  );
}

/** Where nothing is counted: the state in words that fill the width, and the time of day. */
function Quiet({ words, clock }: { words: string; clock: string | null }) {
  return (
    <section className="board-quiet" style={{ '--letters': Math.max(words.length, LEAST_LETTERS) } as CSSProperties}>
      <p className="board-state">{words}</p>
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
        />
      )}
      {second && <SecondCount count={second} nowMs={nowMs} />}
      <Next words={view?.board.next ?? ''} />
    </section>
  );
}

function Next({ words }: { words: string }) {
  if (words === '') return null;
  return (
    <p className="board-next" style={{ '--letters': words.length + NEXT.length } as CSSProperties}>
      <span className="board-quietly">{NEXT}</span> {words}
    </p>
  );
}

const NEXT = 'next:';
