import { CUE_TABLE, type CueId } from '../../procedure/cue-table.ts';
import { FLUSH_MS } from '../../procedure/spans.ts';
import { spanWords } from '../deviations/words.ts';
import type {
  ClockEventMeasure,
  CueMeasure,
  ExposureMeasure,
  InfusionMeasure,
  LightMeasure,
  SessionMeasures,
} from '../measures.ts';
import type { FigureItem, FigureLane, ItemKind } from './shape.ts';

/** The lanes of a session in the order of a treatment; none before its pump was started. */
export function lanesOf(measures: SessionMeasures): FigureLane[] {
  const { infusion, light, cues, clockEvents } = measures;
  if (infusion === null || light === null) return [];
  const lanes = [infusionLane(infusion, measures), flushLane(infusion, measures), windowLane(light, measures)];
  lanes.push(...exposureLanes(light, measures.exposures));
  const sounded = cues.filter(({ dueFromT0Ms }) => dueFromT0Ms !== null);
  if (sounded.length > 0) lanes.push(cueLane(sounded));
  const clock = clockEvents.filter(({ fromT0Ms }) => fromT0Ms !== null);
  if (clock.length > 0) lanes.push(clockLane(clock));
  return lanes;
}

const span = (kind: ItemKind, fromMs: number, toMs: number, label: string, open = false): FigureItem => ({
  kind,
  fromS: fromMs / 1000,
  toS: toMs / 1000,
  open,
  label,
});

const mark = (kind: ItemKind, atMs: number, label: string): FigureItem => span(kind, atMs, atMs, label);

/** The stretches that the pump ran, and the holds between them. */
function infusionLane(infusion: InfusionMeasure, { holds }: SessionMeasures): FigureLane {
  const heldMs = holds.reduce((sum, hold) => sum + (hold.heldMs ?? 0), 0);
  const held = holds.at(-1)?.heldMs === null;
  const endMs = infusion.endFromT0Ms ?? infusion.ranMs + heldMs;
  const running = infusion.endFromT0Ms === null && !held;
  const actual: FigureItem[] = [];
  let fromMs = 0;
  for (const hold of holds) {
    const overMs = hold.fromT0Ms + (hold.heldMs ?? 0);
    actual.push(span('ran', fromMs, hold.fromT0Ms, 'pump ran'));
    actual.push(span('held', hold.fromT0Ms, overMs, `held (${hold.reason})`, hold.heldMs === null));
    fromMs = overMs;
  }
  if (endMs > fromMs || running) actual.push(span('ran', fromMs, Math.max(fromMs, endMs), 'pump ran', running));
  return {
    id: 'infusion',
    name: 'infusion',
    planned: [span('planned', 0, infusion.plannedMs, 'pump')],
    actual,
    apart: infusion.endFromT0Ms === null ? '' : lengthApart(infusion.ranMs, infusion.plannedMs),
  };
}

/** The flush is planned to follow the infusion at once. */
function flushLane({ plannedMs, endFromT0Ms }: InfusionMeasure, measures: SessionMeasures): FigureLane {
  const { flush, stoppedEarly } = measures;
  const planned = [span('planned', plannedMs, plannedMs + FLUSH_MS, 'flush')];
  const lane = { id: 'flush', name: 'flush', planned } as const;
  if (flush === null) return { ...lane, actual: [], apart: '' };
  const { beganFromT0Ms, ranMs, skipped, flushMl } = flush;
  const stoppedMs = stoppedEarly?.fromT0Ms ?? null;
  const actual: FigureItem[] = [];
  if (beganFromT0Ms !== null) {
    const toMs = ranMs === null ? (stoppedMs ?? beganFromT0Ms) : beganFromT0Ms + ranMs;
    const label = flushMl === null ? 'flush' : `flush, ${flushMl} mL`;
    actual.push(span('ran', beganFromT0Ms, toMs, label, ranMs === null && skipped === null));
  }
  if (skipped !== null) actual.push(mark('skipped', stoppedMs ?? endFromT0Ms ?? 0, `flush ${skipped.how}`));
  return { ...lane, actual, apart: ranMs === null ? '' : lengthApart(ranMs, flush.plannedMs) };
}

function windowLane(light: LightMeasure, { secondEye }: SessionMeasures): FigureLane {
  const planned = [mark('window', light.dueFromT0Ms, 'light window opens')];
  const actual: FigureItem[] = [];
  const apart: string[] = [];
  if (light.startFromT0Ms !== null) {
    actual.push(mark('begun', light.startFromT0Ms, 'light begun'));
    apart.push(offsetWords(light.startOffsetMs ?? 0, 'its opening'));
  } else if (light.overSeq !== null) apart.push('no light was given');
  if (secondEye !== null) {
    const { limitFromT0Ms, startOffsetMs, eye } = secondEye;
    planned.push(mark('limit', limitFromT0Ms, 'second eye limit'));
    if (startOffsetMs !== null) {
      actual.push(mark('begun', limitFromT0Ms + startOffsetMs, `${eye} eye begun`));
      apart.push(`${eye} eye ${offsetWords(startOffsetMs, 'its limit')}`);
    }
  }
  return { id: 'light-window', name: 'light window', planned, actual, apart: apart.join('; ') };
}

function exposureLanes(light: LightMeasure, exposures: readonly ExposureMeasure[]): FigureLane[] {
  let plannedFromMs = light.dueFromT0Ms;
  return exposures.map((exposure) => {
    const plannedToMs = plannedFromMs + exposure.orderedS * 1000;
    const lane = exposureLane(exposure, plannedFromMs, plannedToMs);
    plannedFromMs = plannedToMs;
    return lane;
  });
}

function exposureLane(exposure: ExposureMeasure, plannedFromMs: number, plannedToMs: number): FigureLane {
  const { eye, beams, orderedS, deliveredS, orderedJPerCm2, deliveredJPerCm2 } = exposure;
  const dose = `${deliveredJPerCm2.toFixed(1)} of ${orderedJPerCm2.toFixed(1)} J/cm²`;
  return {
    id: `exposure-${eye}`,
    name: `light, ${eye} eye`,
    planned: [span('planned', plannedFromMs, plannedToMs, 'light')],
    actual: beams.map(({ onFromT0Ms, offFromT0Ms }) =>
      span('light', onFromT0Ms, offFromT0Ms ?? onFromT0Ms, 'light on', offFromT0Ms === null),
    ),
    apart: `${tenths(deliveredS)} of ${tenths(orderedS)} s, ${dose}`,
  };
}

function cueLane(cues: readonly CueMeasure[]): FigureLane {
  return {
    id: 'cues',
    name: 'cues',
    planned: [],
    actual: cues.map(({ cue, outcome, dueFromT0Ms, lateMs }) =>
      span(outcome, dueFromT0Ms ?? 0, (dueFromT0Ms ?? 0) + lateMs, cueWords(cue)),
    ),
    apart: '',
  };
}

function clockLane(events: readonly ClockEventMeasure[]): FigureLane {
  return {
    id: 'clock',
    name: 'clock',
    planned: [],
    actual: events.map(({ what, fromT0Ms, byMs }) => {
      const atMs = fromT0Ms ?? 0;
      return what === 'slept' ? span('slept', atMs - byMs, atMs, 'computer slept') : mark(what, atMs, what);
    }),
    apart: '',
  };
}

const tenths = (seconds: number): number => Number(seconds.toFixed(1));

const cueWords = (cue: string): string => (Object.hasOwn(CUE_TABLE, cue) ? CUE_TABLE[cue as CueId].words : cue);

function offsetWords(offsetMs: number, what: string): string {
  if (offsetMs === 0) return `at ${what}`;
  return `${spanWords(Math.abs(offsetMs))} ${offsetMs > 0 ? 'after' : 'before'} ${what}`;
}

function lengthApart(ranMs: number, plannedMs: number): string {
  const apartMs = ranMs - plannedMs;
  if (apartMs === 0) return 'as planned';
  return `${spanWords(Math.abs(apartMs))} ${apartMs > 0 ? 'longer' : 'shorter'} than planned`;
}
