import { z } from 'zod';
import { exportedSchema, wantedSchema } from '../../../core/protocol/exporting.ts';
import { limitsSchema } from '../../../core/settings/limits.ts';

/** What the thread that makes a file is started with. */
export const makingOfSchema = z.strictObject({ ledgerFile: z.string(), wanted: wantedSchema, limits: limitsSchema });
export type MakingOf = z.infer<typeof makingOfSchema>;

/** Asks for the next part. */
export const nextSchema = z.strictObject({ next: z.literal(true) });

/** The next part, or why there is none. */
export const madeSchema = z.union([
  z.strictObject({
    bytes: z.instanceof(Uint8Array),
    share: exportedSchema.shape.share,
    whole: exportedSchema.shape.whole,
  }),
  z.strictObject({ says: z.string() }),
]);
export type Made = z.infer<typeof madeSchema>;
