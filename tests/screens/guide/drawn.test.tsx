import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import type { Guide, ThrownView } from '../../../core/practice/guide-schema.ts';
import { GuideLesson } from '../../../renderer/guide/guide-lesson.tsx';
import { GuideReview } from '../../../renderer/guide/guide-review.tsx';
import { GuideStrip } from '../../../renderer/guide/guide-strip.tsx';

const GUIDE: Guide = {
  sessionId: 'session-one',
  lesson: { words: ['The light counts from the start.'], source: 'EU-SmPC' },
  next: { key: '3', words: 'regimen, eye and lesion, as ordered', why: null },
  thrown: [],
  review: null,
};

const told = (more: Partial<ThrownView> = {}): Guide => ({
  ...GUIDE,
  thrown: [
    {
      ...{ trouble: 'swelling', words: 'the arm stings', answer: 'stop the pump' },
      ...{ met: null, waiting: true, tookS: null },
      ...more,
    },
  ],
});

describe('the strip', () => {
  const drawn = (guide: Guide): string => renderToStaticMarkup(<GuideStrip guide={guide} />);

  test('says PRACTICE, and is read out without being an alarm', () => {
    expect(drawn(GUIDE)).toContain('role="status"');
    expect(drawn(GUIDE)).toContain('PRACTICE');
    expect(drawn(GUIDE)).toContain('made-up troubles are told here');
  });

  test('tells trouble that waits, and what to press only once it has waited too long', () => {
    expect(drawn(told())).toContain('the arm stings');
    expect(drawn(told())).not.toContain('stop the pump');
    expect(drawn(told({ met: false }))).toContain('stop the pump');
  });

  test('tells nothing of trouble that was met, or can be met no more', () => {
    expect(drawn(told({ met: true, waiting: false, tookS: 4 }))).not.toContain('the arm stings');
    expect(drawn(told({ met: false, waiting: false }))).not.toContain('the arm stings');
  });
});

describe('the lesson', () => {
  const drawn = (guide: Guide): string => renderToStaticMarkup(<GuideLesson guide={guide} />);

  test('has the key to press, what matters, and where that comes from', () => {
    expect(drawn(GUIDE)).toMatch(/<kbd[^>]*>3<\/kbd>.*regimen, eye and lesion.*counts from the start.*EU-SmPC/);
  });

  test('says what there is to wait for where no key goes on', () => {
    const waiting = drawn({ ...GUIDE, next: { key: null, words: 'the light window is not open', why: null } });
    expect(waiting).toContain('wait: the light window is not open');
    expect(waiting).not.toContain('<kbd');
  });
});

test('the review keeps what went well apart from what to look at again, and says that practice proves nothing', () => {
  const drawn = renderToStaticMarkup(
    <GuideReview
      review={[
        { well: true, words: 'no step was forced' },
        { well: false, words: 'the flush took 20 s' },
      ]}
    />,
  );
  expect(drawn).toMatch(/went well.*no step was forced.*to look at again.*the flush took 20 s.*proves nothing/);
  expect(renderToStaticMarkup(<GuideReview review={[{ well: true, words: 'all of it' }]} />)).not.toContain('again');
});
