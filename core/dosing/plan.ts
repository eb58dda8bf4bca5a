import { energyJ, powerMw } from '../light/exposure.ts';
import {
  CAMERA_MAGNIFICATION_RECOMMENDED,
  DISC_CLEARANCE_UM,
  SPOT_BORDER_UM,
  setSpotUm,
  spotAreaCm2,
  spotUm,
  TRIAL_LARGEST_SPOT_UM,
} from '../light/spot.ts';
import type { Regimen } from '../regimen/regimens.ts';
import {
  BSA_FORMULAS,
  type BsaFormulaId,
  type BsaSpread,
  bodySurfaceAreaM2,
  bodySurfaceAreaSpread,
} from './body-surface-area.ts';
import { type Infusate, planInfusate, VIAL } from './infusate.ts';
import type { EyeLight, Plan } from './plan-schema.ts';

export type { EyeLight, Plan } from './plan-schema.ts';

/** Every screen that shows computed figures shows this. */
export const DOSE_CAUTION =
  'Computed figures must be checked by a second qualified person against the current product text and local policy ' +
  'before drug is drawn up.';

/** Share of the chosen area from which the disagreement of the formulas is worth a caution. No published limit. */
export const FORMULA_SPREAD_CAUTION = 0.05;

export interface Lesion {
  readonly eye: 'right' | 'left';
  /** Greatest linear dimension on the retina. */
  readonly gldUm: number;
  /** Retinal spot over set spot, from the labelling of the contact lens. */
  readonly lensFactor?: number;
  /** Nasal edge of the lesion to the temporal edge of the disc. */
  readonly discDistanceUm?: number | undefined;
  /** Of the camera the lesion was measured with. */
  readonly cameraMagnification?: number | undefined;
}

export interface PlanOrder {
  readonly heightCm: number;
  readonly weightKg: number;
  readonly formula: BsaFormulaId;
  readonly regimen: Regimen;
  readonly graduationMl?: number;
  /** Share of the dose by which the formulas may be apart before the plan says so. */
  readonly formulaSpreadShare?: number;
  /** In the order of treatment; one for each eye. */
  readonly lesions: readonly Lesion[];
}

/**
 * The dose, the volumes and the light of one session, with what deserves a second look. Plain JSON.
 * Throws RangeError when there is no lesion, when an eye comes twice, or when a figure is implausible.
 */
export function reckonPlan(order: PlanOrder): Plan {
  const { heightCm, weightKg, formula, regimen, graduationMl = 0.1, formulaSpreadShare, lesions } = order;
  if (lesions.length === 0) throw new RangeError('Give a lesion for each eye to be treated.');
  if (new Set(lesions.map(({ eye }) => eye)).size < lesions.length) {
    throw new RangeError('Give one lesion for each eye: the same eye is there twice.');
  }
  const areaM2 = bodySurfaceAreaM2(formula, heightCm, weightKg);
  const { doseMgPerM2, infusionMin, totalMl } = regimen;
  const infusate = planInfusate({ bodySurfaceAreaM2: areaM2, doseMgPerM2, infusionMin, totalMl, graduationMl });
  const light = lesions.map((lesion) => lightFor(lesion, regimen));
  return {
    bodySurfaceAreaM2: areaM2,
    formula,
    infusate,
    light,
    cautions: [
      ...schemeCautions(regimen),
      ...vialCautions(infusate, graduationMl),
      ...formulaCautions(bodySurfaceAreaSpread(heightCm, weightKg, formula), doseMgPerM2, formulaSpreadShare),
      ...lightCautions(light, regimen),
      ...lesions.flatMap(discCautions),
      ...lesions.flatMap(({ cameraMagnification }) => cameraCautions(cameraMagnification)),
    ],
  };
}

function lightFor({ eye, gldUm, lensFactor }: Lesion, regimen: Regimen): EyeLight {
  const { irradianceMwPerCm2, exposureS, fluenceJPerCm2 } = regimen;
  const retinalSpotUm = spotUm(gldUm);
  const areaCm2 = spotAreaCm2(retinalSpotUm);
  const power = powerMw(irradianceMwPerCm2, areaCm2);
  return {
    eye,
    gldUm,
    spotUm: retinalSpotUm,
    areaCm2,
    powerMw: power,
    energyJ: energyJ(power, exposureS),
    exposureS,
    fluenceJPerCm2,
    irradianceMwPerCm2,
    ...(lensFactor === undefined ? {} : { lensFactor, setSpotUm: setSpotUm(retinalSpotUm, lensFactor) }),
  };
}

export function schemeCautions({ onLabel, name }: Pick<Regimen, 'onLabel' | 'name'>): string[] {
  if (onLabel) return [];
  return [`${name}: off-label. The product text has 6 mg/m2 and 50 J/cm2 only.`];
}

export function vialCautions({ drugMlRounded, vials, leftoverMl }: Infusate, graduationMl: number): string[] {
  const cautions: string[] = [];
  if (vials > 1) cautions.push(`${drugMlRounded} mL of drug takes ${vials} vials of ${VIAL.reconstitutedMl} mL.`);
  if (leftoverMl < graduationMl) {
    cautions.push(`${drugMlRounded} mL of drug leaves nothing in the vial for what is lost in drawing up.`);
  }
  return cautions;
}

export function formulaCautions(spread: BsaSpread, doseMgPerM2: number, share = FORMULA_SPREAD_CAUTION): string[] {
  if (spread.shareOfChosen <= share) return [];
  const least = `${(spread.minM2 * doseMgPerM2).toFixed(2)} mg (${BSA_FORMULAS[spread.minFormula].name})`;
  const most = `${(spread.maxM2 * doseMgPerM2).toFixed(2)} mg (${BSA_FORMULAS[spread.maxFormula].name})`;
  const percent = (spread.shareOfChosen * 100).toFixed(1);
  return [`The body surface area formulas are ${percent} % apart: from ${least} to ${most}.`];
}

/** A spot over the trials' largest. `what` names it in the sentence. */
export function spotCautions(what: string, diameterUm: number): string[] {
  if (diameterUm <= TRIAL_LARGEST_SPOT_UM) return [];
  return [
    `${what} of ${diameterUm.toFixed(0)} um is over ${TRIAL_LARGEST_SPOT_UM} um, the largest used in the trials.`,
  ];
}

/** A camera outside what the product texts recommend. */
export function cameraCautions(cameraMagnification: number | undefined): string[] {
  const { min, max } = CAMERA_MAGNIFICATION_RECOMMENDED;
  if (cameraMagnification === undefined || (cameraMagnification >= min && cameraMagnification <= max)) return [];
  return [`The product texts recommend a fundus camera of ${min} to ${max} times; this one is ${cameraMagnification}.`];
}

/** The spot's border reaches beyond the lesion's edge. */
function discCautions({ eye, discDistanceUm }: Lesion): string[] {
  if (discDistanceUm === undefined || discDistanceUm - SPOT_BORDER_UM / 2 >= DISC_CLEARANCE_UM) return [];
  const edgeUm = discDistanceUm - SPOT_BORDER_UM / 2;
  const ends =
    edgeUm < 0
      ? `reach ${(-edgeUm).toFixed(0)} um over the edge of the disc`
      : `end ${edgeUm.toFixed(0)} um from the disc`;
  return [
    `The ${eye} eye's spot would ${ends}: keep ${DISC_CLEARANCE_UM} um, even if some of the ` +
      'lesion is left untreated. The physician decides the spot.',
  ];
}

function lightCautions(light: readonly EyeLight[], regimen: Regimen): string[] {
  const cautions = light.flatMap(({ eye, spotUm: diameterUm }) => spotCautions(`The ${eye} eye's spot`, diameterUm));
  if (light.length > 1 && regimen.secondEyeLimitMin === null) {
    cautions.push(`${regimen.name}: no time limit is published for a second eye.`);
  }
  return cautions;
}
