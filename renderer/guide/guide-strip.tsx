import type { Guide } from '../../core/practice/guide-schema.ts';
import './guide.css';

/**
 * Made-up trouble, as somebody in the room would tell it. It has its place before there is any, so that nothing moves
 * when it comes; what to press is said only once more time has gone by than was the aim.
 */
export function GuideStrip({ guide }: { guide: Guide }) {
  const told = guide.thrown.find(({ waiting }) => waiting);
  return (
    <p className="guide-strip" role="status" data-told={told !== undefined}>
      <span className="guide-mark">PRACTICE</span>
      <span>{told?.words ?? 'made-up troubles are told here'}</span>
      {told?.met === false && <span className="guide-answer">{told.answer}</span>}
    </p>
  );
}
