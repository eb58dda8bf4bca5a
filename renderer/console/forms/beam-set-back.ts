import type { SessionView } from '../../../core/protocol/view.ts';
import { clockTime } from '../../../core/time/show.ts';
import type { Values } from '../../parts/field.ts';
import { figureReader } from './entries.ts';
import { type Form, type FormContext, readCommand } from './form.ts';
import { latestS, readAgoS } from './late-press.ts';

export const beamSetBackForm: Form = {
  title: () => 'the beam went on or off earlier than pressed',
  lead: () => 'The last stretch of light moves, and with it the light that is counted. The press stays in the record.',
  enter: 'set the beam back',
  start: ({ view }) => ({ edge: isStillOn(view) ? 'on' : '', agoS: '' }),
  fields: (_values, { view, settings }) => [
    {
      kind: 'choice',
      name: 'edge',
      words: 'what was earlier',
      options: [{ value: 'on', words: 'beam on' }, ...(isStillOn(view) ? [] : [{ value: 'off', words: 'beam off' }])],
    },
    { kind: 'figure', name: 'agoS', words: 'before the press, by', unit: `s, at most ${latestS(settings)}` },
  ],
  read: ({ edge = '', agoS }, { settings }) => {
    const reader = figureReader();
    if (edge === '') reader.wrong('edge', 'choose which was earlier, by its number');
    return readCommand({ kind: 'beam-set-back', edge, agoS: readAgoS(agoS, settings, reader) }, reader.errors);
  },
  sums: moved,
};

const isStillOn = (view: SessionView | null): boolean => lastBeam(view)?.offAtMs === null;

type BeamView = NonNullable<SessionView['course']>['exposures'][number]['beams'][number];

/** The stretch of light that began last. */
function lastBeam(view: SessionView | null): BeamView | null {
  const beams = view?.course?.exposures.flatMap((exposure) => exposure.beams) ?? [];
  return beams.sort((one, other) => one.onAtMs - other.onAtMs).at(-1) ?? null;
}

function moved({ edge, agoS }: Values, { view, settings }: FormContext): readonly (readonly [string, string])[] {
  const seconds = readAgoS(agoS, settings);
  const beam = lastBeam(view);
  const atMs = edge === 'off' ? beam?.offAtMs : beam?.onAtMs;
  if (Number.isNaN(seconds) || edge === '' || view?.course == null || atMs == null) return [];
  const { t0AtMs, t0WallMs, t0OffsetMin } = view.course;
  const wallMs = t0WallMs + (atMs - t0AtMs) - seconds * 1000;
  return [[`beam ${edge} would be`, clockTime(wallMs, t0OffsetMin, true)]];
}
