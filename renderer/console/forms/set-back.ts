import { DEFAULT_SETTINGS } from '../../../core/settings/settings.ts';
import { clockTime } from '../../../core/time/show.ts';
import { figureReader } from './entries.ts';
import { type Form, readCommand } from './form.ts';

const RANGE = { min: 1, max: Math.min(120, DEFAULT_SETTINGS.latePressS) };

export const setBackForm: Form = {
  title: () => 'the pump was started earlier than pressed',
  lead: () => 'Both timers count from the corrected start. Both times stay in the record. It can be done once.',
  enter: 'set T0 back',
  start: () => ({ agoS: '' }),
  fields: () => [
    { kind: 'figure', name: 'agoS', words: 'started before the press, by', unit: `s, at most ${RANGE.max}` },
  ],
  read: ({ agoS }) => {
    const reader = figureReader();
    return readCommand(
      { kind: 'set-back', agoS: reader.figure('agoS', agoS, 'time before the press', RANGE, 's') },
      reader.errors,
    );
  },
  sums: ({ agoS }, { view }) => {
    const seconds = figureReader().figure('agoS', agoS, '', RANGE);
    if (Number.isNaN(seconds) || view?.course == null) return [];
    const { t0WallMs, t0OffsetMin } = view.course;
    return [['T0 would be', clockTime(t0WallMs - seconds * 1000, t0OffsetMin, true)]];
  },
};
