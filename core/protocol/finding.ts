import { z } from 'zod';
import { DEVIATION_IDS } from '../ledger/deviations.ts';
import { clinicFilterSchema, findCursorSchema, findFilterSchema } from '../ledger/find-filter.ts';
import { eyeSchema } from '../procedure/commands.ts';
import { STATES } from '../procedure/states.ts';
import { clinicFiguresSchema } from './clinic.ts';
import { foundDeviationSchema, personMeasureSchema, sessionMeasuresSchema } from './measures.ts';

/** Most sessions in one page. */
export const FIND_LIMIT = 200;

/** What finding asks for, beside the identity of the request. */
export const findAsked = {
  /** Looks for sessions, newest first, a page at a time: `cursor` is the place of the last one that is known. */
  find: {
    filter: findFilterSchema,
    cursor: findCursorSchema.nullable(),
    limit: z.number().int().min(1).max(FIND_LIMIT),
  },
  /** Figures over a clinic's sessions. */
  clinic: { filter: clinicFilterSchema },
} as const;

/** One session in a list. */
export const sessionRowSchema = z.strictObject({
  sessionId: z.string(),
  firstSeq: z.number(),
  lastSeq: z.number(),
  entries: z.number(),
  openedWallMs: z.number(),
  offsetMin: z.number(),
  patientCode: z.string().nullable(),
  state: z.enum(STATES),
  practice: z.boolean(),
  /** Null before one is ordered, and while it is withheld from whoever computes second. */
  regimen: z.strictObject({ id: z.string(), name: z.string() }).nullable(),
  /** In the order of treatment; none while they are withheld. */
  eyes: z.array(eyeSchema),
  lots: z.array(z.string()),
  people: z.array(personMeasureSchema),
  /** Each rule once, in the order of the rules. */
  deviations: z.array(z.enum(DEVIATION_IDS)),
  /** First light against its due instant, negative is early; null where there was none. */
  lightStartOffsetMs: z.number().nullable(),
  /** Why the session could be read only in part; null where all of it was. */
  trouble: z.string().nullable(),
});
export type SessionRow = z.infer<typeof sessionRowSchema>;

/**
 * How much of the ledger the index knows. An answer is of the `sessions` that are in it; the others are still being
 * read, oldest last. `readings` have their deviations by the limits in force; after a change of limits they follow.
 */
export const indexedSchema = z.strictObject({
  sessions: z.number(),
  readings: z.number(),
  of: z.number(),
  /** They are as they stood at this entry. */
  uptoSeq: z.number(),
});
export type Indexed = z.infer<typeof indexedSchema>;

export const foundSessionsSchema = z.strictObject({
  rows: z.array(sessionRowSchema),
  /** Whether more follow, and the place that they begin behind. */
  more: z.boolean(),
  next: findCursorSchema.nullable(),
  /** Sessions that answer to the filter, over all pages; `atLeast` where counting was ended there. */
  total: z.strictObject({ sessions: z.number(), atLeast: z.boolean() }),
  indexed: indexedSchema,
});
export type FoundSessions = z.infer<typeof foundSessionsSchema>;

/** A session as it is judged. Where nothing can be said of it, `measures` is null and `says` is why. */
export const sessionReadingSchema = z.strictObject({
  sessionId: z.string(),
  measures: sessionMeasuresSchema.nullable(),
  deviations: z.array(foundDeviationSchema),
  says: z.string().nullable(),
});
export type SessionReading = z.infer<typeof sessionReadingSchema>;

/** Figures over a clinic's sessions: of those that are in the index. */
export const clinicReadingSchema = z.strictObject({
  figures: clinicFiguresSchema,
  /** Light starts that were not sent to be drawn, the oldest; they are in every figure all the same. */
  pointsLeftOut: z.number().int().nonnegative(),
  indexed: indexedSchema,
});
export type ClinicReading = z.infer<typeof clinicReadingSchema>;
