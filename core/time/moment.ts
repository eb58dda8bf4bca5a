import { z } from 'zod';

/**
 * One moment as the station's clock read it, on its three clocks at once.
 *
 * - `continuousMs`: milliseconds on the clock that timers count with. It never steps and includes sleep. Only
 *   comparable within one `boot`.
 * - `boot`: identity of the machine's boot that `continuousMs` belongs to.
 * - `wallMs`: UTC milliseconds since 1970. For people and the record; may step; never counted with.
 * - `offsetMin`: minutes that local time was ahead of UTC at that moment.
 */
export const momentSchema = z.strictObject({
  continuousMs: z.number().nonnegative(),
  boot: z.string().min(1).max(100),
  wallMs: z.number().int(),
  offsetMin: z.number().int().min(-900).max(900),
});

export type Moment = z.infer<typeof momentSchema>;
