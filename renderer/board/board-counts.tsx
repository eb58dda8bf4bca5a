import type { CSSProperties, Ref } from 'react';
import type { CountView, ExposureView, SessionView } from '../../core/protocol/view.ts';
import { BigCount, countWidthEm } from '../parts/big-count.tsx';
import { givenJPerCm2 } from '../parts/given-light.ts';
import { useSay } from '../words/use-say.ts';
import { HeldBars } from './board-shapes.tsx';

/** Milliseconds left of a count, less than nothing once it is over. A held count stands. */
const leftOf = ({ dueAtMs, leftMs }: CountView, nowMs: number): number =>
  dueAtMs === null ? (leftMs ?? 0) : dueAtMs - nowMs;

interface MainCountProps {
  readonly view: SessionView;
  readonly count: CountView;
  readonly nowMs: number;
  /** The place whose font size the number has. */
  readonly number: Ref<HTMLParagraphElement>;
}

/** The one number, as large as its place allows, and what it counts to. */
export function MainCount({ view, count, nowMs, number }: MainCountProps) {
  const ms = leftOf(count, nowMs);
  const unit = count.kind === 'light' ? 'seconds' : 'minutes';
  const exposure = view.course?.exposures.find(({ eye }) => count.kind === 'light' && eye === count.eye);
  const words = ms < 0 ? count.pastWords : count.words;
  return (
    <>
      <section className="board-number">
        <p className="board-fitted" ref={number} style={{ '--wide': countWidthEm(ms, unit) } as CSSProperties}>
          <BigCount ms={ms} unit={unit} />
        </p>
      </section>
      {exposure === undefined ? (
        <Line words={`${words}${lightDueWords(view, count, ms)}`} />
      ) : (
        <Exposure words={words} held={count.dueAtMs === null} exposure={exposure} nowMs={nowMs} />
      )}
    </>
  );
}

function Line({ words }: { words: string }) {
  const say = useSay();
  return (
    <div className="board-words" style={lettersOf(say(words))}>
      <p>{words}</p>
    </div>
  );
}

/** An open window is time to begin, and past the site's own limit it is late. */
function lightDueWords(view: SessionView, count: CountView, ms: number): string {
  if (ms >= 0 || count.kind !== 'left' || count.dueAtMs !== view.course?.lightDueAtMs) return '';
  return -ms > view.settings.limits.lightStartWithinS * 1000 ? ': light overdue' : ': light is due';
}

interface ExposureProps {
  readonly words: string;
  readonly held: boolean;
  readonly exposure: ExposureView;
  readonly nowMs: number;
}

function Exposure({ words, held, exposure, nowMs }: ExposureProps) {
  const given = givenJPerCm2(exposure, inSteps(exposure, nowMs));
  const ordered = `of ${exposure.orderedJPerCm2} J/cm²`;
  const say = useSay();
  return (
    <div className="board-words" style={lettersOf(`${say(words)} · ${say(`00.0 ${ordered}`)}`)}>
      <p>
        {held && <HeldBars />}
        {words} <span className="board-quietly">·</span>{' '}
        <span className="board-given">
          {given.toFixed(1)} {ordered}
        </span>
      </p>
      <Measure share={given / exposure.orderedJPerCm2} />
    </div>
  );
}

/** Twice a second, from the beam's start on: a digit that changed with every tenth of a J/cm2 would flicker. */
function inSteps({ beamOnSinceAtMs }: ExposureView, nowMs: number): number {
  if (beamOnSinceAtMs === null) return nowMs;
  return beamOnSinceAtMs + Math.floor((nowMs - beamOnSinceAtMs) / STEP_MS) * STEP_MS;
}

const STEP_MS = 500;

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
  const words = ms < 0 ? count.pastWords : count.words;
  const say = useSay();
  return (
    <p className="board-second" style={lettersOf(say(words))}>
      {held && <HeldBars />}
      <span className="board-second-words">{words}</span>
      <BigCount ms={ms} />
    </p>
  );
}
