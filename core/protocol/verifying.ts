import { z } from 'zod';

/** What a reading of the whole ledger came to. */
export const wholeReadingSchema = z.union([
  z.strictObject({
    sound: z.boolean(),
    entries: z.number(),
    headSeq: z.number(),
    headHash: z.string().nullable(),
    /** Of the last entry that was read; null where the file's own identity cannot be read. */
    anchor: z.string().nullable(),
    /** The first of them; `since` is the wall time up to which all was sound, ISO 8601. */
    problems: z.array(z.strictObject({ seq: z.number().nullable(), what: z.string(), since: z.string().nullable() })),
    /** How many there are in all. */
    problemCount: z.number(),
  }),
  z.strictObject({ unreadable: z.string() }),
]);
export type WholeReading = z.infer<typeof wholeReadingSchema>;

/**
 * Asks for a reading of the whole ledger, and again for how far it is: a `run` that is not known begins one. With an
 * anchor that was kept elsewhere the reading also tells whether the ledger still has that entry.
 */
export const verifyAsked = { run: z.string().min(8).max(64), anchor: z.string().max(200).nullable() } as const;

export const verifyingSchema = z.strictObject({
  run: z.string(),
  /** How much has been read, 0 to 1. */
  share: z.number().min(0).max(1),
  /** Null while it is being read. */
  reading: wholeReadingSchema.nullable(),
});
export type Verifying = z.infer<typeof verifyingSchema>;
