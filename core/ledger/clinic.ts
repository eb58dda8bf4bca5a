import type { Limits } from '../settings/limits.ts';
import { type DeviationsByMonth, deviationsByMonth } from './clinic/by-month.ts';
import { type Distribution, distribution } from './clinic/distribution.ts';
import { percentile } from './clinic/percentile.ts';
import type { DeviationId } from './deviations.ts';
import type { HoldMeasure, SessionMeasures } from './measures.ts';

export type { DeviationsByMonth } from './clinic/by-month.ts';
export type { Distribution } from './clinic/distribution.ts';

/** What a clinic's figures need of one session. */
export interface ClinicSession {
  readonly openedWallMs: number;
  readonly offsetMin: number;
  /** Starts of light against their due instants, ms; negative is early. */
  readonly lightStartOffsetsMs: readonly number[];
  /** How long the pump ran; null while it was not off for good. */
  readonly infusionRanMs: number | null;
  /** How long the flush took; null where it was not done. */
  readonly flushMs: number | null;
  readonly holds: readonly Pick<HoldMeasure, 'reason' | 'heldMs'>[];
  /** Rules the session departs from. One named twice is counted twice. */
  readonly deviations: readonly DeviationId[];
}

export interface ClinicFigures {
  readonly sessions: number;
  readonly lightStarts: RunChart;
  /** Null where no session has one. */
  readonly infusions: Distribution | null;
  readonly flushes: Distribution | null;
  readonly deviations: DeviationsByMonth;
  readonly holds: readonly HoldsByReason[];
}

/** Light starts in the order in which sessions were opened. */
export interface RunChart {
  readonly points: readonly { readonly openedWallMs: number; readonly offsetMin: number; readonly offsetMs: number }[];
  /** Null where there is no point. */
  readonly medianMs: number | null;
  /** The site's limits, either way. */
  readonly limitMs: number;
  readonly outside: number;
}

export interface HoldsByReason {
  readonly reason: string;
  readonly holds: number;
  /** Of the holds that ended. */
  readonly heldMs: number;
}

/** What a clinic's figures need of a session that was read. */
export function clinicSession(
  { openedWallMs, offsetMin, light, infusion, flush, holds }: SessionMeasures,
  deviations: readonly DeviationId[],
): ClinicSession {
  const offsetMs = light?.startOffsetMs ?? null;
  return {
    openedWallMs,
    offsetMin,
    lightStartOffsetsMs: offsetMs === null ? [] : [offsetMs],
    infusionRanMs: infusion === null || infusion.endSeq === null ? null : infusion.ranMs,
    flushMs: flush?.ranMs ?? null,
    holds: holds.map(({ reason, heldMs }) => ({ reason, heldMs })),
    deviations,
  };
}

/** The figures of a clinic over its sessions, given in any order. */
export function clinicFigures(sessions: readonly ClinicSession[], limits: Limits): ClinicFigures {
  const ordered = [...sessions].sort((one, other) => one.openedWallMs - other.openedWallMs);
  return {
    sessions: ordered.length,
    lightStarts: runChart(ordered, limits),
    infusions: distribution(ordered.flatMap(({ infusionRanMs }) => infusionRanMs ?? [])),
    flushes: distribution(ordered.flatMap(({ flushMs }) => flushMs ?? [])),
    deviations: deviationsByMonth(ordered),
    holds: byReason(ordered),
  };
}

function runChart(ordered: readonly ClinicSession[], { lightStartWithinS }: Limits): RunChart {
  const points = ordered.flatMap(({ openedWallMs, offsetMin, lightStartOffsetsMs }) =>
    lightStartOffsetsMs.map((offsetMs) => ({ openedWallMs, offsetMin, offsetMs })),
  );
  const sorted = points.map(({ offsetMs }) => offsetMs).sort(ascending);
  return {
    points,
    medianMs: sorted.length === 0 ? null : percentile(sorted, 0.5),
    limitMs: lightStartWithinS * 1000,
    outside: points.filter(({ offsetMs }) => Math.abs(offsetMs) / 1000 > lightStartWithinS).length,
  };
}

function byReason(ordered: readonly ClinicSession[]): HoldsByReason[] {
  const reasons = new Map<string, HoldsByReason>();
  for (const { reason, heldMs } of ordered.flatMap(({ holds }) => holds)) {
    const known = reasons.get(reason) ?? { reason, holds: 0, heldMs: 0 };
    reasons.set(reason, { reason, holds: known.holds + 1, heldMs: known.heldMs + (heldMs ?? 0) });
  }
  return [...reasons.values()].sort((one, other) => other.holds - one.holds || (one.reason < other.reason ? -1 : 1));
}

const ascending = (one: number, other: number): number => one - other;
