import { z } from 'zod';
import { MADE_UP_IDS } from './made-up-troubles.ts';

/** What a guided practice station tells beside the session in front. */
export const guideSchema = z.strictObject({
  sessionId: z.string(),
  lesson: z.strictObject({ words: z.array(z.string()), source: z.string() }),
  /** The very next key; null where only waiting is left, or the session is over. */
  next: z.strictObject({ key: z.string().nullable(), words: z.string(), why: z.string().nullable() }).nullable(),
  /** Troubles that were made up and thrown in, oldest first. */
  thrown: z.array(
    z.strictObject({
      trouble: z.enum(MADE_UP_IDS),
      words: z.string(),
      answer: z.string(),
      /** Whether it was met within its time; null while that is open. */
      met: z.boolean().nullable(),
      /** It can still be answered, in time or not. */
      waiting: z.boolean(),
      /** Real seconds until it was answered; null where it was not, or nothing had to be pressed. */
      tookS: z.number().nullable(),
    }),
  ),
  /** Once the session is over: what went well, and what to look at again. */
  review: z.array(z.strictObject({ well: z.boolean(), words: z.string() })).nullable(),
});

export type Guide = z.infer<typeof guideSchema>;
export type ThrownView = Guide['thrown'][number];
export type ReviewLine = NonNullable<Guide['review']>[number];
