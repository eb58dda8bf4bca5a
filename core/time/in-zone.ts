/** A moment as a clock on the wall of a place shows it: `2031-03-08` and `10:20`, 24 hours. */
export interface LocalMinute {
  readonly date: string;
  readonly time: string;
}

/**
 * Local date and time of an instant, by the rules that the zone has at that instant: a change of the clocks between now
 * and then is counted in. `zone` is an IANA name; throws RangeError for one that the machine does not know.
 */
export function inZone(wallMs: number, zone: string): LocalMinute {
  const parts = new Map(
    clockOf(zone)
      .formatToParts(wallMs)
      .map(({ type, value }) => [type, value]),
  );
  const [year, month, day, hour, minute] = FIELDS.map((field) => parts.get(field));
  return { date: `${year}-${month}-${day}`, time: `${hour}:${minute}` };
}

const MINUTE_MS = 60_000;

/** Clocks are set back by 30 min at least (Lord Howe) and, so far, by 3 h at most. */
const SET_BACK_MIN = [30, 60, 90, 120, 150, 180] as const;

/**
 * The first minute from an instant on whose local time comes once only. Where clocks are set back, an hour comes twice,
 * and who reads its time on paper may take the first for the second: a time until which something is to be kept is then
 * told as the end of that hour.
 */
export function notComingTwice(wallMs: number, zone: string): number {
  let atMs = wallMs;
  while (cameBefore(atMs, zone)) atMs += MINUTE_MS;
  return atMs;
}

function cameBefore(wallMs: number, zone: string): boolean {
  const now = inZone(wallMs, zone);
  return SET_BACK_MIN.some((backMin) => {
    const before = inZone(wallMs - backMin * MINUTE_MS, zone);
    return before.date === now.date && before.time === now.time;
  });
}

const FIELDS = ['year', 'month', 'day', 'hour', 'minute'] as const;

/** Making a clock costs far more than reading one. */
const CLOCKS = new Map<string, Intl.DateTimeFormat>();

function clockOf(zone: string): Intl.DateTimeFormat {
  const known = CLOCKS.get(zone) ?? newClock(zone);
  CLOCKS.set(zone, known);
  return known;
}

const newClock = (zone: string): Intl.DateTimeFormat =>
  new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    calendar: 'iso8601',
    numberingSystem: 'latn',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
