import { figureReader } from './entries.ts';
import { type Form, readCommand } from './form.ts';

export const lineForm: Form = {
  title: () => 'what filter and line hold',
  lead: () => 'From the end of the syringe to the vein, as measured for the sets in use.',
  enter: 'enter the line',
  start: ({ view, settings }) => ({
    lineMl: String(view?.line?.lineMl ?? settings.lineMl ?? ''),
    primedWith: view?.line?.primedWith ?? settings.primedWith ?? '',
  }),
  fields: () => [
    { kind: 'figure', name: 'lineMl', words: 'filter and line hold', unit: 'mL' },
    {
      kind: 'choice',
      name: 'primedWith',
      words: 'primed with',
      options: [
        { value: 'drug', words: 'the infusate' },
        { value: 'diluent', words: 'dextrose 5 %' },
      ],
    },
  ],
  read: ({ lineMl, primedWith = '' }) => {
    const reader = figureReader();
    const volumeMl = reader.figure('lineMl', lineMl, 'line volume', { min: 0, max: 20 }, 'mL');
    if (primedWith === '') reader.wrong('primedWith', 'choose what it was primed with, by its number');
    return readCommand({ kind: 'line', lineMl: volumeMl, primedWith }, reader.errors);
  },
};
