import { SAME_INSTANT_MS } from '../../procedure/cue-occurrences.ts';
import { CUE_TABLE, type CueId } from '../../procedure/cue-table.ts';
import type { ClockEventMeasure, CueMeasure, SessionMeasures } from '../measures.ts';
import type { DeviationRule, Finding } from './shape.ts';
import { fromStart, spanBeside, spanWords } from './words.ts';

const LOCAL = { text: 'local practice', sure: 'local' } as const;

/** What the computer did that the procedure did not plan for: its clocks, and its cues. */
export const MACHINE_RULES = [
  {
    id: 'computer-slept',
    title: 'computer slept',
    setting: null,
    unit: 's',
    source: LOCAL,
    find: (measures) =>
      clockFindings(measures, 'slept', ({ byMs }) => ({
        value: byMs / 1000,
        words: `the computer slept for ${spanWords(byMs)} while drug or light was under way`,
      })),
  },
  {
    id: 'instants-rebased',
    title: 'times estimated after a restart',
    setting: null,
    unit: null,
    source: LOCAL,
    find: (measures) =>
      clockFindings(measures, 're-based', () => ({
        value: null,
        words: 'the computer was started anew: spans across that are estimates by wall time',
      })),
  },
  {
    id: 'clock-stepped',
    title: 'wall clock stepped',
    setting: 'clockStepMaxS',
    unit: 's',
    source: LOCAL,
    find: (measures, { clockStepMaxS: limit }) =>
      clockFindings(measures, 'clock stepped', ({ byMs }) => {
        const spanMs = Math.abs(byMs);
        const way = byMs < 0 ? 'back' : 'ahead';
        return spanMs / 1000 <= limit
          ? null
          : { value: spanMs / 1000, words: `the wall clock stepped ${way} by ${spanBeside(spanMs, limit * 1000)}` };
      }).map((finding) => ({ ...finding, limit })),
  },
  {
    id: 'zone-changed',
    title: 'time zone changed',
    setting: null,
    unit: 'min',
    source: LOCAL,
    find: (measures) =>
      clockFindings(measures, 'zone changed', ({ byMs }) => ({
        value: Math.abs(byMs) / 60_000,
        words: `local time moved ${byMs < 0 ? 'back' : 'ahead'} by ${spanWords(Math.abs(byMs))}`,
      })),
  },
  {
    id: 'cue-late',
    title: 'cue sounded late',
    setting: 'cueLateMaxS',
    unit: 's',
    source: LOCAL,
    find: ({ cues }, { cueLateMaxS: limit }) =>
      told(cues, 'late')
        .filter(({ lateMs }) => lateMs / 1000 > limit)
        .map((cue) => ({
          seq: cue.seq,
          value: cue.lateMs / 1000,
          limit,
          words: `${cueWords(cue)} sounded ${spanBeside(cue.lateMs, limit * 1000)} late`,
        })),
  },
  {
    id: 'cue-silent',
    title: 'cue not sounded',
    setting: null,
    unit: null,
    source: LOCAL,
    find: ({ cues }) =>
      told(cues, 'silent').map((cue) => ({
        seq: cue.seq,
        value: null,
        limit: null,
        words: `${cueWords(cue)} could not be sounded`,
      })),
  },
  {
    id: 'cue-missing',
    title: 'no word of a cue',
    setting: null,
    unit: null,
    source: LOCAL,
    find: ({ cues }) =>
      told(cues, 'missing').map((cue) => ({
        seq: cue.seq,
        value: null,
        limit: null,
        words: `nothing tells whether ${cueWords(cue)} was sounded`,
      })),
  },
] as const satisfies readonly DeviationRule[];

function clockFindings(
  { clockEvents }: SessionMeasures,
  what: ClockEventMeasure['what'],
  finding: (event: ClockEventMeasure) => Pick<Finding, 'value' | 'words'> | null,
): Finding[] {
  return clockEvents
    .filter((event) => event.what === what)
    .flatMap((event) => {
      const found = finding(event);
      return found === null ? [] : [{ seq: event.seq, limit: null, ...found }];
    });
}

/** Cues of one outcome; of a cue that was repeated only where it begins to be so, for its repeats say no more. */
function told(cues: readonly CueMeasure[], outcome: CueMeasure['outcome']): CueMeasure[] {
  return cues.filter((cue, index) => {
    const before = cues.slice(0, index).findLast((one) => one.cue === cue.cue);
    return cue.outcome === outcome && (before?.outcome !== outcome || !isRepeat(before, cue));
  });
}

function isRepeat(before: CueMeasure, { cue, dueFromT0Ms }: CueMeasure): boolean {
  const everyMs = rowOf(cue)?.repeats?.everyMs ?? null;
  if (everyMs === null || before.dueFromT0Ms === null || dueFromT0Ms === null) return false;
  return Math.abs(dueFromT0Ms - before.dueFromT0Ms - everyMs) <= SAME_INSTANT_MS;
}

function cueWords({ cue, dueFromT0Ms }: CueMeasure): string {
  const when = dueFromT0Ms === null ? '' : ` at ${fromStart(dueFromT0Ms)}`;
  return `the cue "${rowOf(cue)?.words ?? cue.replaceAll('-', ' ')}"${when}`;
}

const rowOf = (cue: string) => (Object.hasOwn(CUE_TABLE, cue) ? CUE_TABLE[cue as CueId] : undefined);
