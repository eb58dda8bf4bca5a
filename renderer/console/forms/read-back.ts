import { LIGHT_LIMITS, setSpotUm } from '../../../core/light/spot.ts';
import type { Values } from '../../parts/field.ts';
import { figureReader } from './entries.ts';
import { type Form, type FormContext, readCommand } from './form.ts';

export const readBackForm: Form = {
  title: ({ eye }) => `${eye ?? ''} eye: laser settings read back`.trim(),
  lead: () => 'Read from the laser’s own display, aloud; the factor of the lens from its own label.',
  enter: 'enter the settings',
  start: () => ({}),
  fields: () => [
    { kind: 'figure', name: 'lensFactor', words: 'factor of the lens on the eye', unit: '×' },
    { kind: 'figure', name: 'laserLensFactor', words: 'factor entered into the laser', unit: '×' },
    { kind: 'figure', name: 'setSpotUm', words: 'spot set', unit: 'µm' },
    { kind: 'figure', name: 'irradianceMwPerCm2', words: 'irradiance', unit: 'mW/cm²' },
    { kind: 'figure', name: 'exposureS', words: 'exposure', unit: 's' },
  ],
  read: (values, { eye }) => {
    const reader = figureReader();
    const figures = Object.entries(RANGES).map(([field, { what, unit, ...range }]) => [
      field,
      reader.figure(field, values[field], what, range, unit),
    ]);
    return readCommand({ kind: 'read-back', eye, ...Object.fromEntries(figures) }, reader.errors);
  },
  sums: wanted,
};

const RANGES = {
  lensFactor: { what: 'lens factor', unit: '', ...LIGHT_LIMITS.lensFactor },
  laserLensFactor: { what: 'lens factor', unit: '', ...LIGHT_LIMITS.lensFactor },
  setSpotUm: { what: 'spot set', unit: 'µm', min: 50, max: 15_000 },
  irradianceMwPerCm2: { what: 'irradiance', unit: 'mW/cm²', min: 10, max: 2_000 },
  exposureS: { what: 'exposure', unit: 's', min: 1, max: 1_000 },
} as const;

/** What the laser ought to show through this lens, for the plan of the eye. */
function wanted({ lensFactor }: Values, { view, eye }: FormContext): readonly (readonly [string, string])[] {
  const light = view?.plan?.light.find((one) => one.eye === eye);
  const factor = figureReader().figure('', lensFactor, '', LIGHT_LIMITS.lensFactor);
  if (light === undefined || Number.isNaN(factor)) return [];
  return [
    [
      'to be set through this lens',
      `${setSpotUm(light.spotUm, factor).toFixed(0)} µm, for ${light.spotUm} µm on the retina`,
    ],
  ];
}
