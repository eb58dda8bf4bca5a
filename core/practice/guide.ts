import { type SessionRecord, stateOf } from '../procedure/record.ts';
import type { SessionView } from '../protocol/view.ts';
import type { Guide, ReviewLine, ThrownView } from './guide-schema.ts';
import { type Judged, judge } from './judging.ts';
import { LESSONS } from './lessons.ts';
import { madeUpById } from './made-up-troubles.ts';
import { nextStepOf } from './next-step.ts';
import { type Thrown, toldWords } from './thrown.ts';
import { isPutRight } from './wrong-weight.ts';

/** What is told beside a session: what matters here, what comes next, and what became of the troubles. */
export function guideOf(
  record: SessionRecord,
  view: SessionView,
  thrown: readonly Thrown[],
  nowMs: number,
  review: readonly ReviewLine[] | null,
): Guide {
  const { words, source } = LESSONS[stateOf(record)];
  const judged = thrown.map((one) => ({ one, judged: judge(one, record, nowMs) }));
  const told = judged.find((each) => each.judged.became === 'open' && !isPutRight(each.one, record))?.one.trouble;
  return {
    sessionId: record.sessionId,
    lesson: { words: [...words], source },
    next: nextStepOf(view, told === undefined ? null : madeUpById(told)),
    thrown: judged.map((each) => thrownView(each.one, each.judged)),
    review: review && [...review],
  };
}

function thrownView(thrown: Thrown, judged: Judged): ThrownView {
  const { trouble } = thrown;
  const { answer } = madeUpById(trouble);
  const tookMs = 'tookMs' in judged ? judged.tookMs : null;
  return {
    trouble,
    words: toldWords(thrown),
    answer,
    met: judged.became === 'open' && !judged.overdue ? null : judged.became === 'met',
    waiting: judged.became === 'open',
    tookS: tookMs === null ? null : Math.round(tookMs / 100) / 10,
  };
}
