import { z } from 'zod';

/** Where on this machine things are kept. */
export const placesSchema = z.strictObject({
  /** The data folder, and the ledger in it. */
  folder: z.string(),
  ledger: z.string(),
  /** What finding leans on: made of the ledger, and made anew where it is lost. */
  index: z.string(),
  /** Where entries wait while the ledger's disk does not take them. */
  emergency: z.string(),
  /** Where a second copy is kept; null where none is. */
  copies: z.string().nullable(),
});
export type Places = z.infer<typeof placesSchema>;
