import { z } from 'zod';

/** What one session can be exported as. */
export const SESSION_FORMS = ['csv', 'json', 'fhir', 'pdf'] as const;
export type SessionForm = (typeof SESSION_FORMS)[number];

const sessionId = z.string().min(4).max(64);
const patientCode = z.string().min(1).max(30);

/** What is to be made a file of. */
export const wantedSchema = z.discriminatedUnion('what', [
  /** One session, in one form. */
  z.strictObject({ what: z.literal('session'), sessionId, as: z.enum(SESSION_FORMS) }),
  /** All sessions of one patient, entries and chain, as JSON. */
  z.strictObject({ what: z.literal('patient'), patientCode }),
  /** The table of one patient's sessions as CSV, or of all sessions. */
  z.strictObject({ what: z.literal('table'), patientCode: patientCode.nullable() }),
]);
export type Wanted = z.infer<typeof wantedSchema>;

/**
 * Bytes of a file in one message, before base64: with what is around them it stays under 64 KiB, the longest message
 * that any carrier takes.
 */
export const PART_BYTES = 45_000;

const exportId = z.string().min(8).max(64);

/**
 * A file is fetched part by part: the station makes no more than has been asked for, so a slow screen fills nobody's
 * memory. Asked again for the same part, it gives the same bytes.
 */
export const exportAsked = {
  /** Begins a file. Answered like `export-part`, with part 0; `exportId` is the identity of this request. */
  export: { wanted: wantedSchema },
  'export-part': { exportId, part: z.number().int().nonnegative() },
  /** Ends the making of a file, or lets go of one that is whole. Not answered. */
  'cancel-export': { exportId },
} as const;

/** The file once its last part is there. */
const wholeSchema = z.strictObject({
  fileName: z.string(),
  mediaType: z.string(),
  bytes: z.number(),
  sha256: z.string(),
  /** What is not in it, in words: what is damaged in the ledger, or still withheld. */
  notes: z.array(z.string()),
});
export type WholeFile = z.infer<typeof wholeSchema>;

export const exportedSchema = z.strictObject({
  exportId: z.string(),
  part: z.number().int(),
  /** Empty while the part is being made: it is to be asked for again. */
  base64: z.string(),
  /** How much of the work is done, 0 to 1; null where that cannot be told. */
  share: z.number().min(0).max(1).nullable(),
  /** With the last part. */
  whole: wholeSchema.nullable(),
});
export type Exported = z.infer<typeof exportedSchema>;
