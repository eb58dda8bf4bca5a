import { calendarDate } from '../../time/show.ts';
import { DEVIATION_IDS, type DeviationId } from '../deviations.ts';

/** Months without a session are there too, so that a chart has no gap. A month is that of the session's own zone. */
export interface DeviationsByMonth {
  readonly months: readonly string[];
  readonly sessions: readonly number[];
  /** Rules that were departed from at all, in the order of the rules; one count for each month. */
  readonly kinds: readonly { readonly id: DeviationId; readonly counts: readonly number[] }[];
}

interface OfAMonth {
  readonly openedWallMs: number;
  readonly offsetMin: number;
  readonly deviations: readonly DeviationId[];
}

/** Counts the deviations of sessions, by rule and by the month in which they were opened. */
export function deviationsByMonth(ordered: readonly OfAMonth[]): DeviationsByMonth {
  const monthOf = ({ openedWallMs, offsetMin }: OfAMonth): string => calendarDate(openedWallMs, offsetMin).slice(0, 7);
  const seen = ordered.map(monthOf);
  const months = monthsBetween(seen);
  const place = new Map(months.map((month, index) => [month, index]));
  const none = (): number[] => months.map(() => 0);
  const sessions = none();
  const counts = new Map<DeviationId, number[]>();
  ordered.forEach(({ deviations }, index) => {
    const month = place.get(seen[index] ?? '') ?? 0;
    sessions[month] = (sessions[month] ?? 0) + 1;
    for (const id of deviations) {
      const row = counts.get(id) ?? none();
      row[month] = (row[month] ?? 0) + 1;
      counts.set(id, row);
    }
  });
  const kinds = DEVIATION_IDS.flatMap((id) => {
    const row = counts.get(id);
    return row === undefined ? [] : [{ id, counts: row }];
  });
  return { months, sessions, kinds };
}

/** Every month from the first to the last of those given, as `2031-03`. */
function monthsBetween(seen: readonly string[]): string[] {
  const sorted = [...seen].sort();
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (first === undefined || last === undefined) return [];
  const months = [first];
  for (let month = first; month < last; ) {
    month = new Date(Date.UTC(Number(month.slice(0, 4)), Number(month.slice(5)), 1)).toISOString().slice(0, 7);
    months.push(month);
  }
  return months;
}
