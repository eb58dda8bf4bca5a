import { Glyph } from '../parts/glyph.tsx';
import type { Said } from './use-desk.ts';
import './said-below.css';

/** What is said below the way on. Always there, so that nothing moves when something is said. */
export function SaidBelow({ said, busy }: { said: Said; busy: boolean }) {
  return (
    <div className="said" role="status">
      {busy && <p className="said-busy">writing</p>}
      {!busy &&
        said.sentences.map((sentence) => (
          <p key={sentence} className={said.refused ? 'missing' : undefined}>
            {said.refused && <Glyph name="missing" />} <span>{sentence}</span>
          </p>
        ))}
    </div>
  );
}
