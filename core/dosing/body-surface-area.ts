import { mustLieWithin, type PlausibleRange } from './plausible.ts';

export type BsaFormulaId = 'mosteller' | 'du-bois' | 'haycock' | 'gehan-george' | 'boyd';

export interface BsaFormula {
  readonly id: BsaFormulaId;
  readonly name: string;
  /** The paper the formula was published in. */
  readonly source: string;
  /** Area in m2 from height in cm and weight in kg, with no check of either. */
  readonly areaM2: (heightCm: number, weightKg: number) => number;
}

/** The product texts name no formula (value from memory, verify), so a session records which one was used. */
export const BSA_FORMULAS = {
  mosteller: {
    id: 'mosteller',
    name: 'Mosteller',
    source: 'Mosteller, N Engl J Med 1987;317:1098',
    areaM2: (heightCm, weightKg) => Math.sqrt((heightCm * weightKg) / 3600),
  },
  'du-bois': {
    id: 'du-bois',
    name: 'Du Bois',
    source: 'Du Bois and Du Bois, Arch Intern Med 1916;17:863-871',
    areaM2: (heightCm, weightKg) => 0.007184 * heightCm ** 0.725 * weightKg ** 0.425,
  },
  haycock: {
    id: 'haycock',
    name: 'Haycock',
    source: 'Haycock et al, J Pediatr 1978;93:62-66',
    areaM2: (heightCm, weightKg) => 0.024265 * heightCm ** 0.3964 * weightKg ** 0.5378,
  },
  'gehan-george': {
    id: 'gehan-george',
    name: 'Gehan and George',
    source: 'Gehan and George, Cancer Chemother Rep 1970;54:225-235',
    areaM2: (heightCm, weightKg) => 0.0235 * heightCm ** 0.42246 * weightKg ** 0.51456,
  },
  boyd: {
    id: 'boyd',
    name: 'Boyd',
    source: 'Boyd, University of Minnesota Press 1935',
    // The formula takes grams, and its logarithm is to base 10, not natural.
    areaM2: (heightCm, weightKg) => {
      const weightG = weightKg * 1000;
      return 0.0003207 * heightCm ** 0.3 * weightG ** (0.7285 - 0.0188 * Math.log10(weightG));
    },
  },
} as const satisfies { readonly [Id in BsaFormulaId]: BsaFormula & { readonly id: Id } };

/** Plausible heights and weights; no clinical limits. They catch metres for centimetres and other slips. */
export const BODY_LIMITS = {
  heightCm: { min: 50, max: 250 },
  weightKg: { min: 10, max: 350 },
} as const satisfies Record<string, PlausibleRange>;

/**
 * Body surface area in m2 by the formula named, unrounded.
 * Throws RangeError when height or weight lies outside BODY_LIMITS.
 */
export function bodySurfaceAreaM2(formula: BsaFormulaId, heightCm: number, weightKg: number): number {
  mustLieWithin('Height', heightCm, BODY_LIMITS.heightCm, 'cm');
  mustLieWithin('Weight', weightKg, BODY_LIMITS.weightKg, 'kg');
  return BSA_FORMULAS[formula].areaM2(heightCm, weightKg);
}

export interface BsaSpread {
  readonly minM2: number;
  readonly minFormula: BsaFormulaId;
  readonly maxM2: number;
  readonly maxFormula: BsaFormulaId;
  /** (maxM2 - minM2) as a fraction of the area by the chosen formula. */
  readonly shareOfChosen: number;
}

/**
 * How far the five formulas lie apart for one body. They part most in obesity, where Du Bois has been found low
 * (Livingston and Lee, Am J Physiol Endocrinol Metab 2001;281:E586). Throws RangeError outside BODY_LIMITS.
 */
export function bodySurfaceAreaSpread(
  heightCm: number,
  weightKg: number,
  chosen: BsaFormulaId = 'mosteller',
): BsaSpread {
  const chosenM2 = bodySurfaceAreaM2(chosen, heightCm, weightKg);
  let min = { formula: chosen, areaM2: chosenM2 };
  let max = min;
  for (const { id, areaM2 } of Object.values(BSA_FORMULAS)) {
    const candidate = { formula: id, areaM2: areaM2(heightCm, weightKg) };
    if (candidate.areaM2 < min.areaM2) min = candidate;
    if (candidate.areaM2 > max.areaM2) max = candidate;
  }
  return {
    minM2: min.areaM2,
    minFormula: min.formula,
    maxM2: max.areaM2,
    maxFormula: max.formula,
    shareOfChosen: (max.areaM2 - min.areaM2) / chosenM2,
  };
}
