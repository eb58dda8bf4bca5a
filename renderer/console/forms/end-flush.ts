import { FLUSH_ML } from '../../../core/procedure/conditions.ts';
import { figureReader } from './entries.ts';
import { type Form, readCommand } from './form.ts';
import { reasonField, reasonGiven } from './reason.ts';

export const endFlushForm: Form = {
  title: () => 'flush done',
  enter: 'flush done',
  start: () => ({ flushMl: String(FLUSH_ML), override: '' }),
  fields: (_values, context) => [
    { kind: 'figure', name: 'flushMl', words: 'flushed with dextrose 5 %', unit: 'mL' },
    ...reasonField(context),
  ],
  read: (values, context) => {
    const reader = figureReader();
    const flushMl = reader.figure('flushMl', values.flushMl, 'flush', { min: 0, max: 50 }, 'mL');
    return readCommand({ kind: 'end-flush', flushMl, ...reasonGiven(values, context) }, reader.errors);
  },
};
