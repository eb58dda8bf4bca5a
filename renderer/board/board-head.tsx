import type { CSSProperties } from 'react';
import type { SessionView } from '../../core/protocol/view.ts';
import { useSay } from '../words/use-say.ts';
import { HeldBars } from './board-shapes.tsx';

/** What is going on, and for whom. Without a count the state is written large below, so it is not said here too. */
export function BoardHead({ view, clock }: { view: SessionView | null; clock: string | null }) {
  const say = useSay();
  if (view === null) return <header className="board-head" />;
  const { board, course, patient, practice } = view;
  const title = board.main === null ? '' : say(board.title);
  const held = course?.held === true || (board.main?.kind === 'light' && board.main.dueAtMs === null);
  const who = [patient?.patientCode ?? say('no patient yet'), say(eyesInTurn(view.eyes))]
    .filter((words) => words !== '')
    .join(' · ');
  const practiceWord = practice && say('practice');
  const others = [practiceWord, clock, who].filter(Boolean).join(GAP).length;
  const room = HEAD_LETTERS - title.length - others;
  const offLabel = view.regimen?.onLabel === false ? offLabelWords(say(OFF_LABEL), view.offLabelReason, room) : '';
  const letters = { '--title-letters': title.length + 2, '--letters': others + GAP.length + offLabel.length };
  return (
    <header className="board-head" style={letters as CSSProperties}>
      {title !== '' && (
        <h1 className="board-title" translate="no">
          {held && <HeldBars />}
          {title}
        </h1>
      )}
      <p className="board-flags">
        {practice && (
          <span className="board-practice" translate="no">
            {practiceWord}
          </span>
        )}
        {offLabel !== '' && <span translate="no">{offLabel}</span>}
        {clock !== null && <span>{clock}</span>}
      </p>
      <p className="board-who" translate="no">
        {who}
      </p>
    </header>
  );
}

/** Room that the head takes between its words, in letters. */
const GAP = '    ';

/** As many letters as the head has room for in a size that is still read. */
const HEAD_LETTERS = 66;

/** With its reason as far as there is room for it: the console shows all of it. */
function offLabelWords(offLabel: string, reason: string | null, room: number): string {
  const inFull = `${offLabel}: ${reason ?? ''}`;
  if (reason === null || room < offLabel.length + LEAST_REASON) return offLabel;
  if (inFull.length <= room) return inFull;
  return `${inFull.slice(0, inFull.lastIndexOf(' ', room - 1)).replace(/\W+$/, '')} …`;
}

const OFF_LABEL = 'off label';
/** Letters of a reason below which it says nothing. */
const LEAST_REASON = 16;

/** `right eye`, or `right eye, then left`. */
export function eyesInTurn([first, second]: SessionView['eyes']): string {
  if (first === undefined) return '';
  return second === undefined ? `${first} eye` : `${first} eye, then ${second}`;
}
