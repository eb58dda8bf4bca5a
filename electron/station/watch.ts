import type { Moment } from '../../core/time/moment.ts';

/** Something that happened to the machine's time between two looks at it. */
export type TimeEvent =
  | { readonly kind: 'slept'; readonly sleptMs: number; readonly byWallMs: number; readonly asleepMs: number }
  | { readonly kind: 'clock-stepped'; readonly byMs: number }
  | { readonly kind: 'zone-changed'; readonly fromMin: number; readonly toMin: number };

/** A look at all clocks at once. `awakeMs` does not count sleep where the machine can tell; else equals the continuous. */
export interface Look {
  readonly at: Moment;
  readonly awakeMs: number;
}

/** Differences below this are the clocks' own resolution, and what a busy machine adds between two readings. */
const SEEN_MS = 1000;

/** All that the machine has slept since it was started, as far as it can tell. */
export const asleepMs = ({ at, awakeMs }: Look): number => Math.max(0, Math.round(at.continuousMs - awakeMs));

/** What happened between two looks. Sleep is what the continuous clock counted and the awake one did not. */
export function eventsBetween(before: Look, now: Look): TimeEvent[] {
  const continuousMs = now.at.continuousMs - before.at.continuousMs;
  const awakeMs = now.awakeMs - before.awakeMs;
  const wallMs = now.at.wallMs - before.at.wallMs;
  const events: TimeEvent[] = [];
  const sleptMs = continuousMs - awakeMs;
  if (sleptMs > SEEN_MS) {
    events.push({
      kind: 'slept',
      sleptMs: Math.round(sleptMs),
      byWallMs: Math.round(wallMs - awakeMs),
      asleepMs: asleepMs(now),
    });
  }
  const steppedMs = wallMs - continuousMs;
  if (Math.abs(steppedMs) > SEEN_MS) events.push({ kind: 'clock-stepped', byMs: Math.round(steppedMs) });
  if (now.at.offsetMin !== before.at.offsetMin) {
    events.push({ kind: 'zone-changed', fromMin: before.at.offsetMin, toMin: now.at.offsetMin });
  }
  return events;
}

/** The last that was entered of this boot's sleep, and the last entry of all in this boot. */
export interface LastKnown {
  readonly asleepMs: number;
  readonly continuousMs: number;
  readonly wallMs: number;
}

/** A sleep that no station saw: the machine has slept more since it was started than the ledger knows of. */
export function sleptUnseen(last: LastKnown, now: Look): Extract<TimeEvent, { kind: 'slept' }> | null {
  const sleptMs = asleepMs(now) - last.asleepMs;
  if (sleptMs <= SEEN_MS) return null;
  const awakeSinceMs = now.awakeMs - (last.continuousMs - last.asleepMs);
  const byWallMs = Math.round(now.at.wallMs - last.wallMs - awakeSinceMs);
  return { kind: 'slept', sleptMs, byWallMs, asleepMs: asleepMs(now) };
}
