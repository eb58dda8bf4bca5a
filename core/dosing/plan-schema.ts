import { z } from 'zod';
import { BSA_FORMULAS, type BsaFormulaId } from './body-surface-area.ts';

const positive = z.number().positive();
const formulaIds = Object.keys(BSA_FORMULAS) as [BsaFormulaId, ...BsaFormulaId[]];

const infusateSchema = z.strictObject({
  doseMg: positive,
  drugMl: positive,
  drugMlRounded: positive,
  doseAfterRoundingMg: positive,
  roundingErrorMg: z.number(),
  diluentMl: z.number().nonnegative(),
  totalMl: positive,
  vials: z.int().positive(),
  leftoverMl: z.number().nonnegative(),
  rateMlPerMin: positive,
  rateMlPerH: positive,
});

const eyeLightSchema = z.strictObject({
  eye: z.enum(['right', 'left']),
  gldUm: positive,
  spotUm: positive,
  areaCm2: positive,
  powerMw: positive,
  energyJ: positive,
  exposureS: positive,
  /** As the regimen prescribes it, so within 1 % of irradiance times seconds. */
  fluenceJPerCm2: positive,
  irradianceMwPerCm2: positive,
  /** Only where the lens is known. */
  lensFactor: z.exactOptional(positive),
  setSpotUm: z.exactOptional(positive),
});

/** The computed dose and light of one session, as it travels between processes and into the ledger: plain JSON. */
export const planSchema = z.strictObject({
  bodySurfaceAreaM2: positive,
  formula: z.enum(formulaIds),
  infusate: infusateSchema,
  light: z.array(eyeLightSchema).min(1).max(2),
  cautions: z.array(z.string().min(1)),
});

export type Plan = z.infer<typeof planSchema>;
export type EyeLight = z.infer<typeof eyeLightSchema>;
