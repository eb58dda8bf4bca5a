import type { CountView, SessionView } from '../../core/protocol/view.ts';
import { useNow } from '../link/store.ts';
import { BigCount } from '../parts/big-count.tsx';
import { givenJPerCm2 } from '../parts/given-light.ts';
import './counts.css';

/** The counts of the board, the weightier one larger. */
export function Counts({ view, silent }: { view: SessionView; silent: boolean }) {
  const { main, second } = view.board;
  if (main === null) return null;
  return (
    <section className="counts" aria-label="counts" data-silent={silent}>
      <Count count={main} view={view} />
      {second !== null && <Count count={second} view={view} small />}
    </section>
  );
}

export function Count({ count, view, small = false }: { count: CountView; view: SessionView; small?: boolean }) {
  const nowMs = useNow(DRAW_EVERY_MS, count.dueAtMs ?? 0);
  const ms = count.dueAtMs === null ? (count.leftMs ?? 0) : count.dueAtMs - nowMs;
  const light = count.kind === 'light';
  return (
    <div className={small ? 'count count-small' : 'count'}>
      <p className="count-number">
        <BigCount ms={ms} unit={light ? 'seconds' : 'minutes'} />
      </p>
      <p className="count-words">
        {light && count.dueAtMs === null && 'held · '}
        {ms < 0 ? count.pastWords : count.words}
        {light && <Given count={count} view={view} nowMs={nowMs} />}
      </p>
    </div>
  );
}

function Given({ count, view, nowMs }: { count: CountView; view: SessionView; nowMs: number }) {
  const exposure = view.course?.exposures.find(({ eye }) => eye === count.eye);
  if (exposure === undefined) return null;
  const given = givenJPerCm2(exposure, nowMs);
  return (
    <>
      {' '}
      · {given.toFixed(1)} of {exposure.orderedJPerCm2} J/cm²
    </>
  );
}

/** Often enough for a tenth of a J/cm2. A whole number of these is a second, so that seconds flip at their instant. */
const DRAW_EVERY_MS = 100;
