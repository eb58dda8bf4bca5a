import type { CSSProperties } from 'react';
import type { CountView, ExposureView, SessionView } from '../../core/protocol/view.ts';
import { BigCount, countWidthEm } from '../parts/big-count.tsx';
import { givenJPerCm2 } from '../parts/given-light.ts';
import { HeldBars, OpenWindow } from './board-shapes.tsx';

/** Milliseconds left of a count, less than nothing once it is over. A held count stands. */
const leftOf = ({ dueAtMs, leftMs }: CountView, nowMs: number): number =>
  dueAtMs === null ? (leftMs ?? 0) : dueAtMs - nowMs;

/** The one number, as large as its place allows, and what it counts to. */
export function MainCount({ view, count, nowMs }: { view: SessionView; count: CountView; nowMs: number }) {
  const ms = leftOf(count, nowMs);
  const unit = count.kind === 'light' ? 'seconds' : 'minutes';
  const exposure = view.course?.exposures.find(({ eye }) => count.kind === 'light' && eye === count.eye);
  return (
    <>
      <section className="board-number">
        <p className="board-fitted" style={{ '--wide': countWidthEm(ms, unit) } as CSSProperties}>
          <BigCount ms={ms} unit={unit} />
        </p>
      </section>
      <CountWords view={view} count={count} over={ms < 0} nowMs={nowMs} exposure={exposure} />
    </>
  );
}

interface CountWordsProps {
  readonly view: SessionView;
  readonly count: CountView;
  readonly over: boolean;
  readonly nowMs: number;
  readonly exposure: ExposureView | undefined;
}

function CountWords({ view, count, over, nowMs, exposure }: CountWordsProps) {
  const words = over ? count.pastWords : count.words;
  if (exposure === undefined) {
    const open = over && count.dueAtMs === view.course?.lightDueAtMs;
    return (
      <div className="board-words" style={lettersOf(words)}>
        <p>
          {open && <OpenWindow />}
          {words}
        </p>
      </div>
    );
  }
  const given = givenJPerCm2(exposure, nowMs);
  const ordered = `of ${exposure.orderedJPerCm2} J/cm²`;
  return (
    <div className="board-words" style={lettersOf(`${words} · 00.0 ${ordered}`)}>
      <p>
        {count.dueAtMs === null && <HeldBars />}
        {words} <span className="board-quietly">·</span> <span className="board-given">{given.toFixed(1)}</span>{' '}
        {ordered}
      </p>
      <Measure share={given / exposure.orderedJPerCm2} />
    </div>
  );
}

/** How long a line is, with room for a shape before it: the style sheet fits it into the width. */
const lettersOf = (words: string): CSSProperties => ({ '--letters': words.length + 2 }) as CSSProperties;

/** How much of the light is given, as a length. */
function Measure({ share }: { share: number }) {
  return (
    <div className="board-measure" aria-hidden="true">
      <div style={{ width: `${Math.min(1, share) * 100}%` }} />
    </div>
  );
}

/** The second timer, smaller: words first, then the number. */
export function SecondCount({ count, nowMs }: { count: CountView; nowMs: number }) {
  const ms = leftOf(count, nowMs);
  const held = count.kind === 'held';
  return (
    <p className="board-second">
      {held && <HeldBars />}
      <span className="board-second-words">{ms < 0 ? count.pastWords : count.words}</span>
      <BigCount ms={ms} />
    </p>
  );
}
