import { clockTime } from '../../../core/time/show.ts';
import { figureReader } from './entries.ts';
import { type Form, readCommand } from './form.ts';
import { latestS, readAgoS } from './late-press.ts';

export const setBackForm: Form = {
  title: () => 'the pump was started earlier than pressed',
  lead: () => 'Both timers count from the corrected start. Both times stay in the record. It can be done once.',
  enter: 'set T0 back',
  start: () => ({ agoS: '' }),
  fields: (_values, { settings }) => [
    { kind: 'figure', name: 'agoS', words: 'started before the press, by', unit: `s, at most ${latestS(settings)}` },
  ],
  read: ({ agoS }, { settings }) => {
    const reader = figureReader();
    return readCommand({ kind: 'set-back', agoS: readAgoS(agoS, settings, reader) }, reader.errors);
  },
  sums: ({ agoS }, { view, settings }) => {
    const seconds = readAgoS(agoS, settings);
    if (Number.isNaN(seconds) || view?.course == null) return [];
    const { t0WallMs, t0OffsetMin } = view.course;
    return [['T0 would be', clockTime(t0WallMs - seconds * 1000, t0OffsetMin, true)]];
  },
};
