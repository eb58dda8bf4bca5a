import { z } from 'zod';

/**
 * What passes between the station and the carrier that started it: messages of many screens over one pipe, and a few
 * words about the pipe itself. `screen` is the carrier's own name for one connected screen; `*` is all of them.
 */
export const toStationSchema = z.union([
  z.strictObject({ screen: z.string().min(1).max(64), message: z.unknown() }),
  z.strictObject({ left: z.string().min(1).max(64) }),
  /** Something happened in the carrier that the ledger should know, for example a window that crashed. */
  z.strictObject({
    report: z.strictObject({
      kind: z.enum(['window-crashed', 'display-lost', 'display-found', 'display-swapped', 'closing-asked', 'closed']),
      words: z.string().max(300),
    }),
  }),
  z.strictObject({ stop: z.literal(true) }),
  /** Moves a stepped clock on, in rehearsal only: every instant that comes due on the way is entered in its turn. */
  z.strictObject({ advanceToMs: z.number().nonnegative(), token: z.number() }),
]);
export type ToStation = z.infer<typeof toStationSchema>;

export const fromStationSchema = z.union([
  z.strictObject({ screen: z.string().min(1).max(64), message: z.unknown() }),
  z.strictObject({ ready: z.strictObject({ database: z.string(), boot: z.string(), sessions: z.number() }) }),
  /** The station cannot work and ends: what is wrong and what to do, for a person. */
  z.strictObject({ fatal: z.string() }),
  z.strictObject({ advanced: z.number(), nowMs: z.number() }),
]);
export type FromStation = z.infer<typeof fromStationSchema>;

/** How the station is started: its command-line words. `speed`, `stepped` and `guided` need `practice`. */
export const STATION_WORDS = {
  data: '--data',
  practice: '--practice',
  speed: '--speed',
  stepped: '--stepped',
  asTyped: '--as-typed',
  guided: '--guided',
} as const;
