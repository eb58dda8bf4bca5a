import { z } from 'zod';
import { eyeSchema } from '../procedure/commands.ts';
import { STATES } from '../procedure/states.ts';
import { DEVIATION_IDS } from './deviations.ts';

/** Sessions by a rule that they deviate from, or by any. */
export const ANY_DEVIATION = 'any';

const initials = z.string().regex(/^[A-Z]{2,4}$/, 'initials are two to four letters, for example MO');
const code = z.string().trim().min(1).max(30);

/**
 * Which sessions are looked for. A session is found that answers to every field given; none given finds all. Letters
 * of codes and lots are compared without regard to capitals.
 */
export const findFilterSchema = z.strictObject({
  /** Opened at this wall instant or later, ms UTC. */
  fromWallMs: z.number().int().optional(),
  /** Opened before this wall instant, ms UTC. */
  toWallMs: z.number().int().optional(),
  /** The beginning of the patient's code. */
  patientCode: code.optional(),
  /** The whole lot of a vial. */
  lot: code.optional(),
  regimenId: z.string().min(1).max(40).optional(),
  /** Ordered for this eye, be it alone or with the other. */
  eye: eyeSchema.optional(),
  /** Initials of somebody who entered anything in it. */
  person: initials.optional(),
  state: z.enum(STATES).optional(),
  deviation: z.enum([ANY_DEVIATION, ...DEVIATION_IDS]).optional(),
  /** Both where it is not given. */
  practice: z.enum(['real', 'practice', 'both']).optional(),
});

export type FindFilter = z.infer<typeof findFilterSchema>;

/** Of a clinic's sessions, which its figures are made of. */
export const clinicFilterSchema = findFilterSchema.pick({
  fromWallMs: true,
  toWallMs: true,
  practice: true,
  regimenId: true,
});

export type ClinicFilter = z.infer<typeof clinicFilterSchema>;

/**
 * A place in the list of sessions, which is in order of wall time and, within one instant, of sequence; newest first.
 * The page after a session begins behind its place.
 */
export const findCursorSchema = z.strictObject({
  openedWallMs: z.number().int(),
  firstSeq: z.number().int().positive(),
});

export type FindCursor = z.infer<typeof findCursorSchema>;
