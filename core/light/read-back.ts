import { mustBePositive, mustLieWithin } from '../dosing/plausible.ts';
import { fluenceJPerCm2 } from './exposure.ts';
import { LIGHT_LIMITS, spotAreaCm2 } from './spot.ts';

/** Share by which what the laser shows may differ from the plan, for each quantity alone. */
export const READ_BACK_TOLERANCE = 0.01;

export interface PlannedLight {
  /** Wanted diameter on the retina. */
  readonly spotUm: number;
  readonly irradianceMwPerCm2: number;
  readonly exposureS: number;
  readonly lensFactor: number;
  /** Diameter the laser is to be set to: spotUm / lensFactor. */
  readonly setSpotUm: number;
}

/** What the laser's own display says. */
export type ShownLight = {
  readonly setSpotUm: number;
  /** The lens factor entered into the laser. */
  readonly lensFactor: number;
  readonly seconds: number;
} & (
  | { readonly powerMw: number; readonly irradianceMwPerCm2?: never }
  | { readonly irradianceMwPerCm2: number; readonly powerMw?: never }
);

/** (what the laser gives - what was planned) / what was planned. */
export interface ReadBackErrors {
  readonly spot: number;
  readonly irradiance: number;
  readonly seconds: number;
  readonly fluence: number;
  /** Lens factor entered into the laser, against the lens on the eye. */
  readonly lensFactor: number;
}

export interface ReadBack {
  readonly retinalSpotUm: number;
  readonly retinalIrradianceMwPerCm2: number;
  readonly fluenceJPerCm2: number;
  readonly errors: ReadBackErrors;
  readonly agrees: boolean;
  /** One sentence for the screen and the record. */
  readonly says: string;
}

/**
 * What the laser's settings will do on the retina, against the plan.
 *
 * The spot on the retina is the set spot times the factor of the lens on the eye: lensOnEyeFactor, or the planned
 * lens where none is given. A laser that shows power spreads it over that spot. A laser that shows irradiance worked
 * its power out from the set spot and the factor entered into it, so the irradiance on the retina is what it shows
 * times (factor entered / factor of the lens on the eye) squared. Losses in lens and eye are not counted.
 *
 * Agrees when every error is within READ_BACK_TOLERANCE. Computed, from the geometry of a uniform round spot.
 * Throws RangeError on a figure no laser would show.
 */
export function readBack({
  planned,
  shown,
  lensOnEyeFactor = planned.lensFactor,
}: {
  readonly planned: PlannedLight;
  readonly shown: ShownLight;
  readonly lensOnEyeFactor?: number;
}): ReadBack {
  mustLieWithin('Set spot', shown.setSpotUm, LIGHT_LIMITS.spotUm, 'um');
  mustLieWithin('Lens factor entered', shown.lensFactor, LIGHT_LIMITS.lensFactor, '');
  mustLieWithin('Factor of the lens on the eye', lensOnEyeFactor, LIGHT_LIMITS.lensFactor, '');
  mustBePositive('Exposure', shown.seconds, 's');

  const retinalSpotUm = shown.setSpotUm * lensOnEyeFactor;
  const retinalIrradianceMwPerCm2 = irradianceOnRetina(shown, lensOnEyeFactor);
  const fluence = fluenceJPerCm2(retinalIrradianceMwPerCm2, shown.seconds);
  const plannedFluence = fluenceJPerCm2(planned.irradianceMwPerCm2, planned.exposureS);
  const errors = {
    spot: fractionOff(retinalSpotUm, planned.spotUm),
    irradiance: fractionOff(retinalIrradianceMwPerCm2, planned.irradianceMwPerCm2),
    seconds: fractionOff(shown.seconds, planned.exposureS),
    fluence: fractionOff(fluence, plannedFluence),
    lensFactor: fractionOff(shown.lensFactor, lensOnEyeFactor),
  };

  const differences = [
    difference('lens factor entered', errors.lensFactor, shown.lensFactor, lensOnEyeFactor, '', 2),
    difference('spot on the retina', errors.spot, retinalSpotUm, planned.spotUm, 'um', 0),
    difference('irradiance', errors.irradiance, retinalIrradianceMwPerCm2, planned.irradianceMwPerCm2, 'mW/cm2', 0),
    difference('exposure', errors.seconds, shown.seconds, planned.exposureS, 's', 1),
    difference('fluence', errors.fluence, fluence, plannedFluence, 'J/cm2', 1),
  ].filter((text) => text !== '');
  const agrees = differences.length === 0;
  const gives =
    `${retinalSpotUm.toFixed(0)} um at ${retinalIrradianceMwPerCm2.toFixed(0)} mW/cm2 ` +
    `for ${figure(shown.seconds, 1)} s, ${fluence.toFixed(1)} J/cm2`;
  const says = agrees
    ? `The laser agrees with the plan: on the retina ${gives}.`
    : `The laser does not agree with the plan: ${differences.join('; ')}.`;
  return { retinalSpotUm, retinalIrradianceMwPerCm2, fluenceJPerCm2: fluence, errors, agrees, says };
}

function irradianceOnRetina(shown: ShownLight, lensOnEyeFactor: number): number {
  if (shown.powerMw !== undefined) {
    mustBePositive('Power', shown.powerMw, 'mW');
    return shown.powerMw / (spotAreaCm2(shown.setSpotUm) * lensOnEyeFactor ** 2);
  }
  mustBePositive('Irradiance', shown.irradianceMwPerCm2, 'mW/cm2');
  return shown.irradianceMwPerCm2 * (shown.lensFactor / lensOnEyeFactor) ** 2;
}

function fractionOff(is: number, wanted: number): number {
  return (is - wanted) / wanted;
}

/** Empty where the two agree; the margin of 1e-9 lets exactly 1 % pass, which binary fractions put a hair above. */
function difference(what: string, error: number, is: number, wanted: number, unit: string, decimals: number): string {
  if (Math.abs(error) <= READ_BACK_TOLERANCE + 1e-9) return '';
  const way = error < 0 ? 'low' : 'high';
  const isText = `${figure(is, decimals)} ${unit}`.trim();
  return `${what} ${isText} instead of ${figure(wanted, decimals)} (${(Math.abs(error) * 100).toFixed(0)} % ${way})`;
}

/** Up to so many decimals, without trailing zeros: 83 s, 41.7 s. */
function figure(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}
