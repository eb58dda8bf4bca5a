import { lanesOf } from './figure/lanes.ts';
import type { SessionFigure } from './figure/shape.ts';
import type { SessionMeasures } from './measures.ts';

export type { FigureItem, FigureLane, ItemKind, LaneId, MarkKind, SessionFigure, SpanKind } from './figure/shape.ts';
export { isSpan, KIND_WORDS } from './figure/shape.ts';
export { FIGURE_ON_PAPER, type FigureLook, figureSvg } from './figure/svg.ts';
export { type FigureRow, figureRows, figureSentences } from './figure/text.ts';

/** The figure is at least so long: the limit for a second eye in most regimens, so that two sessions look alike. */
const LEAST_S = 20 * 60;
const STEP_S = 60;

/** Planned against actual of a session, from its measures alone. */
export function figureOf(measures: SessionMeasures): SessionFigure {
  const { sessionId, practice, t0, light } = measures;
  const lanes = lanesOf(measures);
  const items = lanes.flatMap(({ planned, actual }) => [...planned, ...actual]);
  const firstS = Math.min(0, ...items.map(({ fromS }) => fromS));
  const lastS = Math.max(LEAST_S, ...items.map(({ toS }) => toS));
  return {
    sessionId,
    practice,
    t0: t0 && { wallMs: t0.wallMs, offsetMin: t0.offsetMin },
    fromS: Math.floor(firstS / STEP_S) * STEP_S,
    toS: Math.ceil(lastS / STEP_S) * STEP_S,
    windowS: light && light.dueFromT0Ms / 1000,
    lightS: light?.startFromT0Ms == null ? null : light.startFromT0Ms / 1000,
    lanes,
    notes: notesOf(measures),
  };
}

function notesOf({ t0, stoppedEarly, clockEvents, trouble, readTo }: SessionMeasures): string[] {
  const notes: string[] = [];
  if (t0 === null) notes.push('No pump was started: there is nothing to draw.');
  if (stoppedEarly !== null) notes.push(`Stopped early: ${stoppedEarly.reason}.`);
  if (clockEvents.some(({ what }) => what === 're-based')) {
    notes.push('The computer was started anew meanwhile: times across that are estimates by wall time.');
  }
  if (trouble !== null) {
    notes.push(`Read up to entry ${readTo} only. Entry ${trouble.seq} cannot be read: ${trouble.says}.`);
  }
  return notes;
}
