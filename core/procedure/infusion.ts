/**
 * The infusion timer, as data. It runs while the pump runs: a hold stops it and keeps what has run.
 */
export interface Infusion {
  readonly plannedMs: number;
  /** What had run before the present stretch. */
  readonly ranBeforeMs: number;
  /** Start of the present stretch; null while held and once the pump is off. */
  readonly runningSinceAtMs: number | null;
  readonly pumpOffAtMs: number | null;
  readonly holds: readonly { heldAtMs: number; reason: string; resumedAtMs: number | null }[];
}

export function startInfusion(t0AtMs: number, plannedMs: number): Infusion {
  return { plannedMs, ranBeforeMs: 0, runningSinceAtMs: t0AtMs, pumpOffAtMs: null, holds: [] };
}

/** Milliseconds that the pump has run up to `atMs`. */
export function infusionRanMs(infusion: Infusion, atMs: number): number {
  const stretchMs = infusion.runningSinceAtMs === null ? 0 : Math.max(0, atMs - infusion.runningSinceAtMs);
  return infusion.ranBeforeMs + stretchMs;
}

/** When the infusion will have run its planned time; null while it does not run. */
export function infusionDueAtMs(infusion: Infusion): number | null {
  if (infusion.runningSinceAtMs === null) return null;
  return infusion.runningSinceAtMs + infusion.plannedMs - infusion.ranBeforeMs;
}

export function holdInfusion(infusion: Infusion, atMs: number, reason: string): Infusion {
  return {
    ...infusion,
    ranBeforeMs: infusionRanMs(infusion, atMs),
    runningSinceAtMs: null,
    holds: [...infusion.holds, { heldAtMs: atMs, reason, resumedAtMs: null }],
  };
}

export function resumeInfusion(infusion: Infusion, atMs: number): Infusion {
  return {
    ...infusion,
    runningSinceAtMs: atMs,
    holds: infusion.holds.map((hold) => (hold.resumedAtMs === null ? { ...hold, resumedAtMs: atMs } : hold)),
  };
}

export function pumpOff(infusion: Infusion, atMs: number): Infusion {
  return { ...infusion, ranBeforeMs: infusionRanMs(infusion, atMs), runningSinceAtMs: null, pumpOffAtMs: atMs };
}

/** The pump had started `byMs` before the press: the whole first stretch moves back, so that more has run. */
export function setBackInfusion(infusion: Infusion, byMs: number): Infusion {
  const untouched = infusion.holds.length === 0 && infusion.runningSinceAtMs !== null;
  return untouched
    ? { ...infusion, runningSinceAtMs: (infusion.runningSinceAtMs ?? 0) - byMs }
    : { ...infusion, ranBeforeMs: infusion.ranBeforeMs + byMs };
}

/** The pump had stood still for `byMs` that were counted as run. */
export function takenBack(infusion: Infusion, byMs: number): Infusion {
  return { ...infusion, ranBeforeMs: infusion.ranBeforeMs - byMs };
}
