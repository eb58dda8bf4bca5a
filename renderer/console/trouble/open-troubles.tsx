import type { SessionView } from '../../../core/protocol/view.ts';
import { clockTime } from '../../../core/time/show.ts';
import { Glyph } from '../../parts/glyph.tsx';
import './trouble.css';

/** Trouble that was met and not told of yet, with its steps where there is room for them. */
export function OpenTroubles({ view }: { view: SessionView }) {
  const open = view.troubles.filter(({ told }) => told === null);
  if (open.length === 0) return null;
  const roomy = open.length === 1 && view.tasks.length <= FEW_TASKS;
  return (
    <section className="met" aria-label="trouble met">
      {open.map(({ card, by, wallMs, offsetMin, atMs }) => (
        <div key={`${card.id} ${atMs}`}>
          <p className="missing">
            <Glyph name="missing" />
            <span>
              {clockTime(wallMs, offsetMin)} {by.initials} · {card.words}: what was done is not told yet
            </span>
          </p>
          {roomy && (
            <ol className="met-steps" aria-label="what to do">
              {card.steps.map((step, index) => (
                <li key={step}>
                  <span className="trouble-number">{index + 1}</span>
                  <span>{step}</span>
                </li>
              ))}
            </ol>
          )}
        </div>
      ))}
    </section>
  );
}

/** With more tasks than this, the steps are read on the card: key T. */
const FEW_TASKS = 1;
