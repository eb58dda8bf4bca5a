import { FULL_COURSE, STATE_WORDS, type StateName } from '../../core/procedure/states.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { clockTime } from '../../core/time/show.ts';
import { Glyph, type GlyphName } from '../parts/glyph.tsx';
import './way-through.css';

/** The way through, with the time at which each state was reached; an early stop stands where it happened. */
export function WayThrough({ view }: { view: SessionView }) {
  return (
    <ol className="way" aria-label="the way through">
      {stagesOf(view).map(({ state, glyph, time }) => (
        <li key={state} className="way-stage" data-at={glyph} aria-current={glyph === 'now' ? 'step' : undefined}>
          <Glyph name={glyph} />
          <span>{STATE_WORDS[state]}</span>
          <span className="way-time">{time}</span>
        </li>
      ))}
    </ol>
  );
}

interface Stage {
  readonly state: StateName;
  readonly glyph: GlyphName;
  readonly time: string;
}

function stagesOf({ state: present, reached }: SessionView): Stage[] {
  const stopped = reached.some(({ state }) => state === 'stoppedEarly');
  const ahead = FULL_COURSE.filter((state) => !reached.some((one) => one.state === state));
  const stages = reached.map(({ state, wallMs, offsetMin }): Stage => {
    const glyph =
      state === present ? (state === 'discharged' ? 'done' : 'now') : state === 'stoppedEarly' ? 'ended' : 'done';
    return { state, glyph, time: clockTime(wallMs, offsetMin) };
  });
  const toCome = stopped ? ahead.filter((state) => state === 'discharged') : ahead;
  return [...stages, ...toCome.map((state): Stage => ({ state, glyph: 'to come', time: '' }))];
}
