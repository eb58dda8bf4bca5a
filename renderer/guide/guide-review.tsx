import { PRACTICE_PROVES_NOTHING } from '../../core/practice/caution.ts';
import type { ReviewLine } from '../../core/practice/guide-schema.ts';
import { Glyph } from '../parts/glyph.tsx';
import './guide.css';

/** After a practice session: what went well, what to look at again, and what none of it says. */
export function GuideReview({ review }: { review: readonly ReviewLine[] }) {
  const well = review.filter((line) => line.well);
  const again = review.filter((line) => !line.well);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what may have to be scrolled has to be reached by keys.
    <section className="guide-review" aria-label="review of this practice" tabIndex={0}>
      <Lines words="went well" lines={well} />
      {again.length > 0 && <Lines words="to look at again" lines={again} />}
      <p className="guide-quiet">{PRACTICE_PROVES_NOTHING}</p>
    </section>
  );
}

function Lines({ words, lines }: { words: string; lines: readonly ReviewLine[] }) {
  return (
    <>
      <p className="guide-heading">{words}</p>
      <ul aria-label={words}>
        {lines.map((line) => (
          <li key={line.words} className="guide-line">
            <Glyph name={line.well ? 'done' : 'to come'} />
            <span>{line.words}</span>
          </li>
        ))}
      </ul>
    </>
  );
}
