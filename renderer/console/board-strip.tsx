import type { BoardPlace } from '../../core/protocol/bridge.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { Glyph } from '../parts/glyph.tsx';
import { Count } from './counts.tsx';
import './board-strip.css';

interface BoardStripProps {
  readonly place: keyof typeof WHY;
  readonly view: SessionView | null;
  readonly silent: boolean;
}

/**
 * The board for as long as there is no second monitor: its counts, so large that the operator can read them here. While
 * nothing is counted it is one line, since the rest of the console says as much.
 */
export function BoardStrip({ place, view, silent }: BoardStripProps) {
  const main = view?.board.main ?? null;
  const counting = view !== null && main !== null;
  return (
    <section className="board-strip" aria-label="board" data-counting={counting} data-silent={silent}>
      {counting && <Count count={main} view={view} />}
      {counting && view.board.second !== null && <Count count={view.board.second} view={view} small />}
      <div className="board-strip-said">
        <p className="board-strip-why">
          <Glyph name="missing" /> {WHY[place]}
        </p>
        {view !== null && <p>{view.board.title}</p>}
        {view !== null && view.board.next !== '' && <p>next: {view.board.next}</p>}
      </div>
    </section>
  );
}

/** Whether the console has to show what the board would. In a browser the board is a page of its own. */
export const needsStrip = (place: BoardPlace | null): place is keyof typeof WHY => place !== null && place in WHY;

const WHY = {
  'second monitor lost': 'second monitor lost: the board is here',
  'no second monitor': 'no second monitor: the board is here',
} as const satisfies Partial<Record<BoardPlace, string>>;
