import { percentile } from './percentile.ts';

/** Percentiles by the R-7 definition. A bin holds what is at least its start and less than its end. */
export interface Distribution {
  readonly count: number;
  readonly medianMs: number;
  readonly p5Ms: number;
  readonly p95Ms: number;
  readonly bins: readonly { readonly fromMs: number; readonly toMs: number; readonly count: number }[];
}

const BIN_STEPS_MS = [1, 2, 5, 10, 30, 60, 300, 600, 3600, 14_400, 86_400].map((seconds) => seconds * 1000);
const MOST_BINS = 40;

/** The distribution of spans, ms; null of none. Bins are as narrow as lets them be few. */
export function distribution(valuesMs: readonly number[]): Distribution | null {
  const sorted = [...valuesMs].sort(ascending);
  const least = sorted[0];
  const most = sorted.at(-1);
  if (least === undefined || most === undefined) return null;
  const binMs = BIN_STEPS_MS.find((stepMs) => binsFrom(least, most, stepMs) <= MOST_BINS) ?? most - least;
  const firstMs = Math.floor(least / binMs) * binMs;
  const counts = new Array<number>(binsFrom(least, most, binMs)).fill(0);
  for (const valueMs of sorted) {
    const index = Math.floor((valueMs - firstMs) / binMs);
    counts[index] = (counts[index] ?? 0) + 1;
  }
  return {
    count: sorted.length,
    medianMs: percentile(sorted, 0.5),
    p5Ms: percentile(sorted, 0.05),
    p95Ms: percentile(sorted, 0.95),
    bins: counts.map((count, index) => ({
      fromMs: firstMs + index * binMs,
      toMs: firstMs + (index + 1) * binMs,
      count,
    })),
  };
}

const binsFrom = (least: number, most: number, binMs: number): number =>
  Math.floor(most / binMs) - Math.floor(least / binMs) + 1;

const ascending = (one: number, other: number): number => one - other;
