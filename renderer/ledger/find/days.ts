/** Days of this machine's own calendar, as people type them. */
export interface DaySpan {
  /** Wall instants, ms UTC: the first of the span, and the first after it. */
  readonly fromWallMs: number;
  readonly toWallMs: number;
}

const DAY = /^(\d{4})-?(\d{2})-?(\d{2})$/;
const MONTH = /^(\d{4})-?(\d{2})$/;

/** `2026-03-02` is a day, `2026-03` a month; null for what is neither, or is not in the calendar. */
export function readDays(typed: string): DaySpan | null {
  const text = typed.trim().replace(/[./\s]/g, '-');
  const day = DAY.exec(text);
  if (day !== null) return spanFrom(Number(day[1]), Number(day[2]), Number(day[3]));
  const month = MONTH.exec(text);
  return month === null ? null : monthSpan(Number(month[1]), Number(month[2]));
}

function spanFrom(year: number, month: number, day: number): DaySpan | null {
  const from = new Date(year, month - 1, day);
  if (from.getMonth() !== month - 1 || from.getDate() !== day) return null;
  return { fromWallMs: from.getTime(), toWallMs: new Date(year, month - 1, day + 1).getTime() };
}

function monthSpan(year: number, month: number): DaySpan | null {
  if (month < 1 || month > 12) return null;
  return { fromWallMs: new Date(year, month - 1, 1).getTime(), toWallMs: new Date(year, month, 1).getTime() };
}

/** The month so many months before the one that an instant lies in. */
export function monthBefore(wallMs: number, months: number): DaySpan {
  const now = new Date(wallMs);
  const first = (ago: number): number => new Date(now.getFullYear(), now.getMonth() - ago, 1).getTime();
  return { fromWallMs: first(months), toWallMs: first(months - 1) };
}

/** The day that an instant lies in, and as many days before it as make up so many. */
export function lastDays(wallMs: number, days: number): DaySpan {
  const now = new Date(wallMs);
  const midnight = (ago: number): number => new Date(now.getFullYear(), now.getMonth(), now.getDate() - ago).getTime();
  return { fromWallMs: midnight(days - 1), toWallMs: midnight(-1) };
}

/** The calendar day of an instant, as `2026-03-02`. */
export function dayOf(wallMs: number): string {
  const at = new Date(wallMs);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}
