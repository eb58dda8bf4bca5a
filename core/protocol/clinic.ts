import { z } from 'zod';
import type { ClinicFigures } from '../ledger/clinic.ts';
import { DEVIATION_IDS } from '../ledger/deviations.ts';

/** Most light starts that are sent to be drawn, the newest; the figures beside them are of all. */
export const CLINIC_POINTS = 1000;

const count = z.number().int().nonnegative();
const ms = z.number();

const distribution = z.strictObject({
  count,
  medianMs: ms,
  p5Ms: ms,
  p95Ms: ms,
  bins: z.array(z.strictObject({ fromMs: ms, toMs: ms, count })),
});

/** A clinic's figures as they cross from one process or thread to another. */
export const clinicFiguresSchema = z.strictObject({
  sessions: count,
  lightStarts: z.strictObject({
    points: z.array(z.strictObject({ openedWallMs: ms, offsetMin: z.number(), offsetMs: ms })),
    medianMs: ms.nullable(),
    limitMs: ms,
    outside: count,
  }),
  infusions: distribution.nullable(),
  flushes: distribution.nullable(),
  deviations: z.strictObject({
    months: z.array(z.string()),
    sessions: z.array(count),
    kinds: z.array(z.strictObject({ id: z.enum(DEVIATION_IDS), counts: z.array(count) })),
  }),
  holds: z.array(z.strictObject({ reason: z.string(), holds: count, heldMs: ms })),
}) satisfies z.ZodType<ClinicFigures>;
