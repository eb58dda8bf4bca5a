import { z } from 'zod';
import { wholeReadingSchema } from '../../core/protocol/verifying.ts';

/** What the thread that reads a whole ledger is started with. */
export const readingOfSchema = z.strictObject({ file: z.string(), anchor: z.string().nullable() });

/** How far it has come, or what it came to. */
export const readingFrameSchema = z.union([
  z.strictObject({ readTo: z.number() }),
  z.strictObject({ reading: wholeReadingSchema }),
]);
