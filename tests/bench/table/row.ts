import { quantile } from 'simple-statistics';

/** One line of the table: medians of one run, and what they stand beside. */
export interface Row {
  readonly what: string;
  readonly unit: string;
  readonly times: number;
  readonly median: number;
  readonly p95: number;
  /** The same work done barely, in the same run. */
  readonly beside?: { readonly what: string; readonly median: number };
  /** The median where everything is tenfold, over this one. */
  readonly tenfold?: { readonly of: string; readonly ratio: number };
  readonly note?: string;
}

/** What could not be measured here, and why. */
export interface Lacking {
  readonly what: string;
  readonly why: string;
}

export const medianOf = (values: readonly number[]): number => quantile([...values], 0.5);

export function rowOf(
  what: string,
  unit: string,
  values: readonly number[],
  more: Pick<Row, 'beside' | 'tenfold' | 'note'> = {},
): Row {
  return { what, unit, times: values.length, median: medianOf(values), p95: quantile([...values], 0.95), ...more };
}

const figure = (value: number): string =>
  value >= 100 ? value.toFixed(0) : value >= 10 ? value.toFixed(1) : value.toFixed(2);

/** The table in plain text, its columns in line. */
export function tableOf(rows: readonly Row[]): string {
  const head = ['what', 'n', 'median', 'p95', 'beside', 'ratio', 'tenfold'];
  const lines = rows.map(({ what, unit, times, median, p95, beside, tenfold }) => [
    what,
    String(times),
    `${figure(median)} ${unit}`,
    `${figure(p95)} ${unit}`,
    beside === undefined ? '' : `${beside.what}: ${figure(beside.median)} ${unit}`,
    beside === undefined ? '' : figure(median / beside.median),
    tenfold === undefined ? '' : `x ${figure(tenfold.ratio)} (${tenfold.of})`,
  ]);
  const widths = head.map((title, column) => Math.max(title.length, ...lines.map((line) => line[column]?.length ?? 0)));
  return [head, ...lines]
    .map((line) =>
      line
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
