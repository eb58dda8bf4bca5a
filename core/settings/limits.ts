import { z } from 'zod';

/**
 * How far what happened may be from what was planned before a reading of the ledger calls it a deviation. Limits are
 * applied when the ledger is read and never stored with what they find: a changed limit reads the past anew.
 */
export const limitsSchema = z.strictObject({
  /** Light start against its due instant, seconds either way. Local practice: no published tolerance was found. */
  lightStartWithinS: z.number().min(0).max(600).default(30),
  /** Time the pump ran against the planned time, seconds either way. Local practice. */
  infusionWithinS: z.number().min(0).max(600).default(30),
  /** Length of the flush against its planned time, seconds either way. Local practice. */
  flushWithinS: z.number().min(0).max(600).default(30),
  /** Drug that a flush left in the line, mg. Local practice: any is read. */
  leftInLineMaxMg: z.number().min(0).max(20).default(0),
  /** Reconstitution to the end of the infusion, minutes. 4 h in use: EU leaflet, and PMC2274995 table 1. */
  inUseMaxMin: z.number().min(1).max(1440).default(240),
  /** Delivered against ordered light, share of the ordered. Local practice; nominal and exact seconds differ by 0.4 %. */
  exposureWithinShare: z.number().min(0).max(0.5).default(0.01),
  /** A hold of the infusion longer than this, seconds. Local practice: any hold is read. */
  holdMaxS: z.number().min(0).max(3600).default(0),
  /** A press set back by more than this, seconds. Local practice: any is read. */
  latePressMaxS: z.number().min(0).max(300).default(0),
  /** A step of the wall clock during a session by more than this, seconds. Local practice. */
  clockStepMaxS: z.number().min(0).max(3600).default(2),
  /** A cue sounded later than this, seconds. Local practice. */
  cueLateMaxS: z.number().min(0).max(60).default(1),
});

export type Limits = z.infer<typeof limitsSchema>;

export const DEFAULT_LIMITS: Limits = limitsSchema.parse({});
