import { z } from 'zod';

/**
 * Wrong PINs for some initials: how many since the last right one, and when the last was. Kept by initials, whether or
 * not anybody has them, so that an answer does not tell.
 */
export const attemptsSchema = z.strictObject({
  failures: z.number().int().positive(),
  lastWallMs: z.number().int(),
});

export type Attempts = z.infer<typeof attemptsSchema>;

/** As many wrong ones in a row cost nothing but the typing. Local, no source. */
export const FREE_FAILURES = 3;
const FIRST_WAIT_MS = 30_000;
/** A nurse with a patient on the table must not be kept out for long by somebody else's guesses. Local, no source. */
export const LONGEST_WAIT_MS = 300_000;

/**
 * How long these initials wait before the next PIN is looked at, ms; 0 when they need not. A wall clock that was set
 * back makes the whole wait begin anew: it never shortens one.
 */
export function waitMs(attempts: Attempts | undefined, nowWallMs: number): number {
  if (attempts === undefined || attempts.failures < FREE_FAILURES) return 0;
  const wholeMs = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (attempts.failures - FREE_FAILURES));
  const sinceMs = nowWallMs - attempts.lastWallMs;
  return sinceMs < 0 ? wholeMs : Math.max(0, wholeMs - sinceMs);
}

export const failedAgain = (attempts: Attempts | undefined, nowWallMs: number): Attempts => ({
  failures: (attempts?.failures ?? 0) + 1,
  lastWallMs: nowWallMs,
});
