import type { Guide } from '../../core/practice/guide-schema.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import './guide.css';

/** The very next key, and what matters in this state and why. */
export function GuideLesson({ guide: { next, lesson } }: { guide: Guide }) {
  return (
    <section className="guide-lesson" aria-label="guided practice">
      {next !== null && (
        <p className="guide-next">
          {next.key !== null && <span className="guide-quiet">next</span>}
          {next.key !== null && <KeyCap cap={next.key} />}
          <span>{next.key === null ? `wait: ${next.words}` : next.words}</span>
        </p>
      )}
      {next !== null && next.why !== null && <p className="guide-quiet">{next.why}</p>}
      <ul className="guide-words" aria-label="what matters here">
        {lesson.words.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p className="guide-quiet">{lesson.source}</p>
    </section>
  );
}
