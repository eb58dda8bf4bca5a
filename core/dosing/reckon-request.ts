import { z } from 'zod';
import { LIGHT_LIMITS } from '../light/spot.ts';
import { REGIMENS } from '../regimen/regimens.ts';
import { BODY_LIMITS, BSA_FORMULAS, type BsaFormulaId } from './body-surface-area.ts';
import { GRADUATION_LIMITS_ML } from './infusate.ts';
import type { PlausibleRange } from './plausible.ts';

const within = ({ min, max }: PlausibleRange, unit: string) => {
  const allowed = `a number from ${min} to ${max} ${unit}`.trim();
  return z.number({ error: allowed }).min(min, allowed).max(max, allowed);
};

const oneOf = <T extends string>(values: readonly T[]) =>
  z.enum(values as [T, ...T[]], { error: `one of: ${values.join(', ')}` });

/** Largest infusate and line that a request may name; plausible figures, not clinical limits. */
const SCHEME_LIMITS = {
  doseMgPerM2: { min: 0.5, max: 12 },
  infusionMin: { min: 1, max: 60 },
  lightStartMin: { min: 1, max: 120 },
  fluenceJPerCm2: { min: 1, max: 200 },
  irradianceMwPerCm2: { min: 10, max: 1200 },
  lineMl: { min: 0, max: 20 },
} as const satisfies Record<string, PlausibleRange>;

/** Either all five figures of a scheme of one's own, or a regimen's id, or neither for the labelled regimen. */
const SCHEME = ['doseMgPerM2', 'infusionMin', 'lightStartMin', 'fluenceJPerCm2', 'irradianceMwPerCm2'] as const;

/** A plan request, as one JSON object. Units are in the names. */
export const reckonRequestSchema = z
  .strictObject({
    heightCm: within(BODY_LIMITS.heightCm, 'cm'),
    weightKg: within(BODY_LIMITS.weightKg, 'kg'),
    formula: oneOf(Object.keys(BSA_FORMULAS) as BsaFormulaId[]).default('mosteller'),
    regimen: oneOf(REGIMENS.map((regimen) => regimen.id)).optional(),
    doseMgPerM2: within(SCHEME_LIMITS.doseMgPerM2, 'mg/m2').optional(),
    infusionMin: within(SCHEME_LIMITS.infusionMin, 'min').optional(),
    lightStartMin: within(SCHEME_LIMITS.lightStartMin, 'min').optional(),
    fluenceJPerCm2: within(SCHEME_LIMITS.fluenceJPerCm2, 'J/cm2').optional(),
    irradianceMwPerCm2: within(SCHEME_LIMITS.irradianceMwPerCm2, 'mW/cm2').optional(),
    lineMl: within(SCHEME_LIMITS.lineMl, 'mL').default(0),
    graduationMl: within(GRADUATION_LIMITS_ML, 'mL').default(0.1),
    lesionUm: within(LIGHT_LIMITS.gldUm, 'um').optional(),
    imageMm: within(LIGHT_LIMITS.imageMm, 'mm').optional(),
    cameraMagnification: within(LIGHT_LIMITS.cameraMagnification, '').optional(),
    lensFactor: within(LIGHT_LIMITS.lensFactor, '').optional(),
  })
  .superRefine((request, context) => {
    const fault = (field: string, message: string) => context.addIssue({ code: 'custom', path: [field], message });
    const given = SCHEME.filter((field) => request[field] !== undefined);
    if (given.length > 0 && request.regimen !== undefined) {
      fault('regimen', `either a regimen or the figures of a scheme (${SCHEME.join(', ')}), not both`);
    }
    for (const field of SCHEME) {
      if (given.length > 0 && request[field] === undefined) fault(field, `needed with ${given.join(', ')}`);
    }
    if (
      request.lightStartMin !== undefined &&
      request.infusionMin !== undefined &&
      request.lightStartMin < request.infusionMin
    ) {
      fault('lightStartMin', `not before the infusion has ended, at ${request.infusionMin} min`);
    }
    if (request.lesionUm !== undefined && request.imageMm !== undefined)
      fault('imageMm', 'either lesionUm or imageMm, not both');
    if (request.imageMm !== undefined && request.cameraMagnification === undefined) {
      fault('cameraMagnification', 'needed with imageMm');
    }
    if (request.cameraMagnification !== undefined && request.imageMm === undefined) {
      fault('imageMm', 'needed with cameraMagnification');
    }
    if (request.lensFactor !== undefined && request.lesionUm === undefined && request.imageMm === undefined) {
      fault('lesionUm', 'needed with lensFactor, or imageMm and cameraMagnification');
    }
  });

export type ReckonRequest = z.infer<typeof reckonRequestSchema>;
