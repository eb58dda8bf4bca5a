import type { CSSProperties } from 'react';
import type { SessionView } from '../../core/protocol/view.ts';
import { HeldBars } from './board-shapes.tsx';

/** What is going on, and for whom. Without a count the state is written large below, so it is not said here too. */
export function BoardHead({ view, clock }: { view: SessionView | null; clock: string | null }) {
  if (view === null) return <header className="board-head" />;
  const { board, course, patient, practice } = view;
  const title = board.main === null ? '' : board.title;
  const held = course?.held === true || (board.main?.kind === 'light' && board.main.dueAtMs === null);
  const offLabel = view.regimen?.onLabel === false ? offLabelWords(view.offLabelReason) : '';
  const who = [patient?.patientCode ?? 'no patient yet', eyesInTurn(view.eyes)]
    .filter((words) => words !== '')
    .join(' · ');
  const letters = [title, practice && 'practice', offLabel, clock, who].filter(Boolean).join('   ').length;
  return (
    <header className="board-head" style={{ '--letters': letters } as CSSProperties}>
      <h1 className="board-title">
        {held && title !== '' && <HeldBars />}
        {title}
      </h1>
      <p className="board-flags">
        {practice && <span className="board-practice">practice</span>}
        {offLabel !== '' && <span>{offLabel}</span>}
        {clock !== null && <span>{clock}</span>}
      </p>
      <p>{who}</p>
    </header>
  );
}

/** With its reason, as far as the line has room: the console shows all of it. */
function offLabelWords(reason: string | null): string {
  if (reason === null) return 'off label';
  if (reason.length <= REASON_LETTERS) return `off label: ${reason}`;
  return `off label: ${reason.slice(0, reason.lastIndexOf(' ', REASON_LETTERS) + 1 || REASON_LETTERS)}…`;
}

const REASON_LETTERS = 36;

/** `right eye`, or `right eye, then left`. */
export function eyesInTurn([first, second]: SessionView['eyes']): string {
  if (first === undefined) return '';
  return second === undefined ? `${first} eye` : `${first} eye, then ${second}`;
}
