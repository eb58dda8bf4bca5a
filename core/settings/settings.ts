import { z } from 'zod';
import { BSA_FORMULAS, type BsaFormulaId } from '../dosing/body-surface-area.ts';
import { GRADUATION_LIMITS_ML } from '../dosing/infusate.ts';
import { isZone } from '../time/zone.ts';
import { LANGUAGES } from './language.ts';
import { limitsSchema } from './limits.ts';

const formulaIds = Object.keys(BSA_FORMULAS) as [BsaFormulaId, ...BsaFormulaId[]];

/**
 * What a site decides for itself. Every one has a default that works; each says what it is for and where the default
 * comes from.
 */
export const settingsSchema = z.strictObject({
  /** Which product text the screening, the first-treatment rule and the light precautions follow. */
  profile: z.enum(['us', 'eu']).default('us'),
  /** Body surface area formula. The product texts name none; Mosteller is common practice, no source. */
  formula: z.enum(formulaIds).default('mosteller'),
  /** The syringe's graduation, mL: drug volume is rounded to it. In hundredths, as volumes are shown and printed. */
  graduationMl: z
    .number()
    .min(GRADUATION_LIMITS_ML.min)
    .max(GRADUATION_LIMITS_ML.max)
    .multipleOf(0.01, 'a graduation in hundredths of a mL')
    .default(0.1),
  /** Share of the dose by which the formulas may be apart before the plan says so. Local practice. */
  formulaSpreadShare: z.number().min(0.005).max(0.5).default(0.05),
  /** What filter and extension set hold, mL, as measured for the sets in use; null asks each time. */
  lineMl: z.number().min(0).max(20).nullable().default(null),
  /** What the line is primed with; null asks each time. Common practice, no source: with the infusate. */
  primedWith: z.enum(['drug', 'diluent']).nullable().default(null),
  /** Folder for a second copy of the ledger, made at the start and after each discharge; null for none. */
  copyFolder: z.string().min(1).max(500).nullable().default(null),
  /** Largest late press that may be set back, seconds. Local practice. */
  latePressS: z.number().int().min(0).max(300).default(120),
  /** From the operator's eye to the board, metres. Local; 3 m is what a laser station commonly has, no source. */
  viewingDistanceM: z.number().min(0.5).max(10).default(3),
  /** Width of the board's picture, mm, measured with a rule; null where it was not, and then no size is claimed. */
  boardWidthMm: z.number().min(100).max(5000).nullable().default(null),
  /** Which window sounds the cues; one alone does. Local. */
  cuesPlayedBy: z.enum(['console', 'board']).default('console'),
  /** Whether words are spoken after each cue's tone. Local. */
  spokenCues: z.boolean().default(false),
  /** Language of the screens and of spoken words. The ledger is English. */
  language: z.enum(LANGUAGES).default('en'),
  /** Time zone of sheets for the patient, by its IANA name, for example Europe/Zurich; null for the machine's own. */
  zone: z.string().refine(isZone, 'a time zone by its IANA name, for example Europe/Zurich').nullable().default(null),
  /** Hours the patient is kept from bright light after the infusion, where they are more than the product text's. */
  lightCareHours: z.number().int().min(24).max(240).nullable().default(null),
  /** Minutes without a key after which the hands at the keyboard sign in anew. Counts stay in sight. Local. */
  idleLockMin: z.number().int().min(1).max(240).default(15),
  /** Both windows fill their displays and nothing else of the machine is reached from them. Local. */
  kiosk: z.boolean().default(false),
  /** Dimroom starts when somebody logs in to the machine. Local. */
  startAtLogin: z.boolean().default(false),
  /** Limits for reading the ledger. */
  limits: limitsSchema.prefault({}),
});

export type Settings = z.infer<typeof settingsSchema>;

export const DEFAULT_SETTINGS: Settings = settingsSchema.parse({});
