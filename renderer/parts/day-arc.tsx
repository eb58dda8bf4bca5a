import { useLayoutEffect, useRef, useState } from 'react';
import type { SessionView } from '../../core/protocol/view.ts';
import { minutesSeconds } from '../../core/time/show.ts';
import { useSay } from '../words/use-say.ts';
import { type ArcFrame, type ArcLayout, arcAhead, arcLayout } from './arc-layout.ts';
import { LightWindow } from './light-window.tsx';
import './day-arc.css';

interface DayArcProps {
  readonly course: SessionView['course'];
  readonly nowMs: number;
  readonly eyes: SessionView['eyes'];
  readonly compact?: boolean;
  /** Before T0: where the window will stand, if a regimen is ordered. */
  readonly lightStartMin?: number | null;
  /** Before T0: how long the infusion is to last, if the dose is computed. */
  readonly infusionMin?: number | null;
}

/** The procedure as an arc from T0 to the last moment that matters. It fills its place, with words of the place's size. */
export function DayArc(props: DayArcProps) {
  const { course, nowMs, eyes, compact = false, lightStartMin = null, infusionMin = null } = props;
  const { ref, size } = useFrame();
  const frame: ArcFrame = { ...size, compact, say: useSay() };
  const layout = course === null ? arcAhead({ lightStartMin, infusionMin }, frame) : arcLayout(course, nowMs, frame);
  return (
    <div className="day-arc" ref={ref}>
      <svg
        viewBox={`0 0 ${size.width} ${size.height}`}
        role="img"
        aria-label={course === null ? 'the procedure has not begun' : sentence(course, eyes.length, nowMs)}
      >
        <Drawn layout={layout} open={course !== null && nowMs >= course.lightDueAtMs} />
      </svg>
    </div>
  );
}

/** The place's own size in pixels and its letter size, kept as it changes. */
function useFrame() {
  const ref = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState({ width: 1000, height: 260, letterPx: 16 });
  useLayoutEffect(() => {
    const place = ref.current;
    if (place === null) return;
    const measure = () => {
      const { clientWidth, clientHeight } = place;
      if (clientWidth === 0 || clientHeight === 0) return;
      const letterPx = Number.parseFloat(getComputedStyle(place).fontSize);
      setSize({ width: clientWidth, height: clientHeight, letterPx });
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(place);
    return () => observer.disconnect();
  }, []);
  return { ref, size };
}

function Drawn({ layout, open }: { layout: ArcLayout; open: boolean }) {
  const { bow, linePx, way, stretches, ticks, window, now, labels } = layout;
  return (
    <>
      <path className="day-arc-way" d={way} strokeWidth={linePx * 0.4} />
      {stretches.map(({ kind, path }) => (
        <g key={path}>
          {GAPPED.includes(kind) && <path className="day-arc-gap" d={path} strokeWidth={linePx * 1.2} />}
          <path className={`day-arc-${kind.replace(' ', '-')}`} d={path} {...stroke(kind, linePx)} />
        </g>
      ))}
      {ticks.map((tick) => (
        <Tick key={tick.kind} tick={tick} linePx={linePx} />
      ))}
      {[bow.leftX, bow.rightX].map((x) => (
        <circle key={x} className="day-arc-foot" cx={x} cy={bow.horizonY} r={linePx * 0.5} />
      ))}
      {window && <LightWindow box={window} lit={open} linePx={linePx * 0.62} />}
      {now && <circle className="day-arc-now" cx={now.x} cy={now.y} r={linePx * 1.75} strokeWidth={linePx * 0.7} />}
      {labels.map(({ id, words, box }) => (
        <text key={id} className={id === 'light window' ? 'day-arc-lamp' : undefined} {...anchored(id, box)}>
          {words}
        </text>
      ))}
    </>
  );
}

/** A bead on the line, hollow while it may move; a limit is a post on it. */
function Tick({ tick: { kind, at, firm }, linePx }: { tick: ArcLayout['ticks'][number]; linePx: number }) {
  if (kind === 'second eye') {
    const post = `M ${at.x} ${at.y + linePx * 0.5} V ${at.y - linePx * 4.5}`;
    return <path className="day-arc-limit" d={post} strokeWidth={linePx * 0.8} />;
  }
  return (
    <circle
      className={firm ? 'day-arc-tick' : 'day-arc-tick day-arc-tick-loose'}
      cx={at.x}
      cy={at.y}
      r={linePx * 0.95}
      strokeWidth={linePx * 0.4}
    />
  );
}

/** Stretches that the faint way does not show through. */
const GAPPED: readonly string[] = ['held', 'flushing', 'flushing ahead'];

/** A held infusion is a thin, broken line; a flush is beads; light is broad. What is ahead has the same form, faint. */
function stroke(kind: ArcLayout['stretches'][number]['kind'], linePx: number) {
  if (kind === 'held') return { strokeWidth: linePx * 0.35, strokeDasharray: `${linePx} ${linePx}` };
  if (kind === 'flushing' || kind === 'flushing ahead') {
    return { strokeWidth: linePx * 0.9, strokeDasharray: `0 ${linePx * 1.5}`, strokeLinecap: 'round' as const };
  }
  if (kind === 'waiting') return { strokeWidth: linePx * 0.5 };
  return { strokeWidth: kind === 'light' ? linePx * 2.2 : linePx };
}

const anchored = (id: string, { x, y, width, height }: { x: number; y: number; width: number; height: number }) => {
  const baseline = y + height * 0.77;
  if (id === 'start' || id === 'light window') return { x, y: baseline };
  if (id === 'end') return { x: x + width, y: baseline, textAnchor: 'end' as const };
  return { x: x + width / 2, y: baseline, textAnchor: 'middle' as const };
};

function sentence(course: NonNullable<SessionView['course']>, eyes: number, nowMs: number): string {
  const since = `${minutesSeconds(nowMs - course.t0AtMs).minutes} min since the infusion began`;
  const infusion = course.pumpOffAtMs !== null ? 'infusion ended' : course.held ? 'infusion held' : 'infusion running';
  const { over, minutes, seconds } = minutesSeconds(course.lightDueAtMs - nowMs);
  const light = over ? 'light window open' : `light window opens in ${minutes} min ${seconds} s`;
  const given = course.exposures.filter((exposure) => exposure.whole).length;
  return `${since}; ${infusion}; ${light}; ${given} of ${eyes} ${eyes === 1 ? 'eye' : 'eyes'} treated`;
}
