import { LIGHT_LIMITS, setSpotUm } from '../../../core/light/spot.ts';
import type { Field, Values } from '../../parts/field.ts';
import { figureReader } from './entries.ts';
import { type Form, type FormContext, readCommand } from './form.ts';

export const readBackForm: Form = {
  title: ({ eye }) => `${eye ?? ''} eye: laser settings read back`.trim(),
  lead: () => 'Read from the laser’s own display, aloud; the factor of the lens from its own label.',
  enter: 'enter the settings',
  start: () => ({ shown: 'irradiance' }),
  fields: (values) => [
    { kind: 'figure', name: 'lensFactor', words: 'factor of the lens on the eye', unit: '×' },
    { kind: 'figure', name: 'laserLensFactor', words: 'factor entered into the laser', unit: '×' },
    { kind: 'figure', name: 'setSpotUm', words: 'spot set', unit: 'µm' },
    SHOWN,
    lightField(values),
    { kind: 'figure', name: 'exposureS', words: 'exposure', unit: 's' },
  ],
  read: (values, { eye }) => {
    const reader = figureReader();
    const names = [...ALWAYS, lightField(values).name as 'powerMw' | 'irradianceMwPerCm2'];
    const figures = names.map((field) => {
      const { what, unit, ...range } = RANGES[field];
      return [field, reader.figure(field, values[field], what, range, unit)] as const;
    });
    return readCommand({ kind: 'read-back', eye, ...Object.fromEntries(figures) }, reader.errors);
  },
  sums: wanted,
};

/** Some lasers show what they give, others what arrives on each cm² of the retina. */
const SHOWN: Field = {
  kind: 'choice',
  name: 'shown',
  words: 'the laser shows',
  options: [
    { value: 'irradiance', words: 'irradiance' },
    { value: 'power', words: 'power' },
  ],
};

const lightField = ({ shown }: Values): Field =>
  shown === 'power'
    ? { kind: 'figure', name: 'powerMw', words: 'power', unit: 'mW' }
    : { kind: 'figure', name: 'irradianceMwPerCm2', words: 'irradiance', unit: 'mW/cm²' };

const ALWAYS = ['lensFactor', 'laserLensFactor', 'setSpotUm', 'exposureS'] as const;

const RANGES = {
  lensFactor: { what: 'lens factor', unit: '', ...LIGHT_LIMITS.lensFactor },
  laserLensFactor: { what: 'lens factor', unit: '', ...LIGHT_LIMITS.lensFactor },
  setSpotUm: { what: 'spot set', unit: 'µm', min: 50, max: 15_000 },
  irradianceMwPerCm2: { what: 'irradiance', unit: 'mW/cm²', min: 10, max: 2_000 },
  powerMw: { what: 'power', unit: 'mW', min: 0.1, max: 5_000 },
  exposureS: { what: 'exposure', unit: 's', min: 1, max: 1_000 },
} as const;

/** What the plan wants on the retina, and what the laser ought to show for it through the lens whose factor is typed. */
function wanted({ lensFactor, shown }: Values, { view, eye }: FormContext): readonly (readonly [string, string])[] {
  const light = view?.plan?.light.find((one) => one.eye === eye);
  if (light === undefined) return [];
  const factor = figureReader().figure('', lensFactor, '', LIGHT_LIMITS.lensFactor);
  const toSet = Number.isNaN(factor)
    ? 'spot wanted, by the factor of the lens'
    : `${setSpotUm(light.spotUm, factor).toFixed(0)} µm = ${light.spotUm} / ${factor}`;
  return [
    ['spot wanted', `${light.spotUm} µm on the retina`],
    ['spot to be set', toSet],
    ...(shown === 'power' ? [['power wanted', `${light.powerMw.toFixed(1)} mW`] as const] : []),
  ];
}
