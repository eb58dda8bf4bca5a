import { mustBePositive, mustLieWithin, type PlausibleRange } from './plausible.ts';

/** One vial of verteporfin, reconstituted with water for injections. */
export const VIAL = {
  mg: 15,
  waterMl: 7,
  reconstitutedMl: 7.5,
  mgPerMl: 2,
  source: 'EU-SmPC: 15 mg powder; 7.0 mL water for injections gives 7.5 mL at 2.0 mg/mL',
} as const;

/** Final volume of the infusate in D5W. Source: EU-SmPC (30 mL). */
export const INFUSATE_ML = 30;

/** Steps a syringe may be graduated in. A plausibility limit, not a published one. */
export const GRADUATION_LIMITS_ML = { min: 0.01, max: 1 } as const satisfies PlausibleRange;

export interface InfusateOrder {
  readonly bodySurfaceAreaM2: number;
  readonly doseMgPerM2: number;
  readonly infusionMin: number;
  /** Final volume with D5W; 30 mL unless said. */
  readonly totalMl?: number;
  /** Step of the syringe the drug is drawn up in; 0.1 mL unless said. */
  readonly graduationMl?: number;
}

export interface Infusate {
  /** What was ordered: dose per m2 times body surface area. */
  readonly doseMg: number;
  /** Volume at 2 mg/mL that holds doseMg exactly. */
  readonly drugMl: number;
  /** What is drawn up: drugMl to the nearest graduation, halves up. */
  readonly drugMlRounded: number;
  /** What drugMlRounded holds. */
  readonly doseAfterRoundingMg: number;
  /** doseAfterRoundingMg - doseMg; below zero when rounding gave less. */
  readonly roundingErrorMg: number;
  /** D5W: totalMl - drugMlRounded. */
  readonly diluentMl: number;
  readonly totalMl: number;
  /** Vials that hold what is drawn up, with no allowance for withdrawal loss. */
  readonly vials: number;
  /** Reconstituted drug left in those vials. */
  readonly leftoverMl: number;
  readonly rateMlPerMin: number;
  readonly rateMlPerH: number;
}

/**
 * Dose, volumes, vials and pump rate of one infusate. Vials are counted for the volume drawn up, so an area a shade
 * over 2.50 m2 at 6 mg/m2 still takes one vial where it rounds down to 7.5 mL.
 *
 * Throws RangeError when a figure is not above zero, when the graduation lies outside GRADUATION_LIMITS_ML, when the
 * dose rounds to nothing, or when the drug alone is more than the total volume.
 */
export function planInfusate({
  bodySurfaceAreaM2,
  doseMgPerM2,
  infusionMin,
  totalMl = INFUSATE_ML,
  graduationMl = 0.1,
}: InfusateOrder): Infusate {
  mustBePositive('Body surface area', bodySurfaceAreaM2, 'm2');
  mustBePositive('Dose', doseMgPerM2, 'mg/m2');
  mustBePositive('Infusion time', infusionMin, 'min');
  mustBePositive('Total volume', totalMl, 'mL');
  mustLieWithin('Graduation', graduationMl, GRADUATION_LIMITS_ML, 'mL');

  const doseMg = doseMgPerM2 * bodySurfaceAreaM2;
  const drugMl = doseMg / VIAL.mgPerMl;
  const drugMlRounded = toGraduation(drugMl, graduationMl);
  if (drugMlRounded === 0) {
    throw new RangeError(
      `${drugMl.toFixed(3)} mL of drug is less than half a graduation of ${graduationMl} mL: use a finer syringe.`,
    );
  }
  if (Math.max(drugMl, drugMlRounded) > totalMl) {
    throw new RangeError(
      `${drugMlRounded} mL of drug does not fit into a total of ${totalMl} mL: check body surface area and dose.`,
    );
  }

  const doseAfterRoundingMg = clean(drugMlRounded * VIAL.mgPerMl);
  const vials = Math.ceil(clean(drugMlRounded / VIAL.reconstitutedMl));
  const rateMlPerMin = totalMl / infusionMin;
  return {
    doseMg,
    drugMl,
    drugMlRounded,
    doseAfterRoundingMg,
    roundingErrorMg: clean(doseAfterRoundingMg - doseMg),
    diluentMl: clean(totalMl - drugMlRounded),
    totalMl,
    vials,
    leftoverMl: clean(vials * VIAL.reconstitutedMl - drugMlRounded),
    rateMlPerMin,
    rateMlPerH: rateMlPerMin * 60,
  };
}

/** 4.35 / 0.1 comes out as 43.49999999999999; it is half a step and must go up like every other half. */
function toGraduation(volumeMl: number, graduationMl: number): number {
  return clean(Math.round(clean(volumeMl / graduationMl)) * graduationMl);
}

/** Drops what binary fractions leave behind the ninth decimal (3 * 0.1 is 0.3), and the minus of a zero. */
function clean(value: number): number {
  return Number(value.toFixed(9)) + 0;
}
