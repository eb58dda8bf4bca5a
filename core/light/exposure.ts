import { mustBePositive, mustNotBeNegative } from '../dosing/plausible.ts';

/**
 * Share by which nominal fluence and irradiance times seconds may differ and still be the same prescription: 83 s at
 * 600 mW/cm2 is 49.8 J/cm2, prescribed as 50 (EU-SmPC).
 */
export const FLUENCE_TOLERANCE = 0.01;

/** Seconds of light that give a fluence at an irradiance. Throws RangeError on a figure that is not above zero. */
export function exposureS(fluence: number, irradianceMwPerCm2: number): number {
  mustBePositive('Fluence', fluence, 'J/cm2');
  mustBePositive('Irradiance', irradianceMwPerCm2, 'mW/cm2');
  return (fluence * 1000) / irradianceMwPerCm2;
}

/** Fluence in J/cm2 of so many seconds of light, none included. Throws RangeError. */
export function fluenceJPerCm2(irradianceMwPerCm2: number, seconds: number): number {
  mustBePositive('Irradiance', irradianceMwPerCm2, 'mW/cm2');
  mustNotBeNegative('Exposure', seconds, 's');
  return (irradianceMwPerCm2 * seconds) / 1000;
}

/** Power on the retina in mW of an even spot; what lens and eye lose on the way is not counted. Throws RangeError. */
export function powerMw(irradianceMwPerCm2: number, areaCm2: number): number {
  mustBePositive('Irradiance', irradianceMwPerCm2, 'mW/cm2');
  mustBePositive('Spot area', areaCm2, 'cm2');
  return irradianceMwPerCm2 * areaCm2;
}

/** Energy in J of so much power for so many seconds, none included. Throws RangeError. */
export function energyJ(power: number, seconds: number): number {
  mustBePositive('Power', power, 'mW');
  mustNotBeNegative('Exposure', seconds, 's');
  return (power * seconds) / 1000;
}

/** Whether two fluences in J/cm2 are the same prescription: within FLUENCE_TOLERANCE of the larger. */
export function fluencesAgree(oneJPerCm2: number, otherJPerCm2: number): boolean {
  const larger = Math.max(Math.abs(oneJPerCm2), Math.abs(otherJPerCm2));
  // The margin of 1e-9 lets exactly 1 % pass, which binary fractions put a hair above.
  return Math.abs(oneJPerCm2 - otherJPerCm2) <= larger * (FLUENCE_TOLERANCE + 1e-9);
}
