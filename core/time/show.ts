const MINUTE_MS = 60_000;

/** Wall time as `14:07` or `14:07:22`, 24-hour, in the zone offset the moment was recorded with. */
export function clockTime(wallMs: number, offsetMin: number, seconds = false): string {
  const iso = new Date(wallMs + offsetMin * MINUTE_MS).toISOString();
  return iso.slice(11, seconds ? 19 : 16);
}

/** Wall date as `2026-03-02` in the zone offset the moment was recorded with. */
export function calendarDate(wallMs: number, offsetMin: number): string {
  return new Date(wallMs + offsetMin * MINUTE_MS).toISOString().slice(0, 10);
}

/** Wall time with date, seconds and offset, as a record needs it: `2026-03-02 14:07:22 +01:00`. */
export function recordTime(wallMs: number, offsetMin: number): string {
  return `${calendarDate(wallMs, offsetMin)} ${clockTime(wallMs, offsetMin, true)} ${zoneOf(offsetMin)}`;
}

/** Wall time to the millisecond with its offset, as other programs read it: `2026-03-02T14:07:22.125+01:00` (ISO 8601). */
export function isoTime(wallMs: number, offsetMin: number): string {
  return `${new Date(wallMs + offsetMin * MINUTE_MS).toISOString().slice(0, -1)}${zoneOf(offsetMin)}`;
}

function zoneOf(offsetMin: number): string {
  const ahead = Math.abs(offsetMin);
  const hours = String(Math.floor(ahead / 60)).padStart(2, '0');
  return `${offsetMin < 0 ? '-' : '+'}${hours}:${String(ahead % 60).padStart(2, '0')}`;
}

/**
 * A span as minutes and seconds. Whole seconds are rounded up while time is left, so that `0:00` means done, and down
 * once it is over, so that `+0:00` is the first second after.
 */
export function minutesSeconds(leftMs: number): { over: boolean; minutes: number; seconds: number; text: string } {
  const over = leftMs < 0;
  const whole = over ? Math.floor(-leftMs / 1000) : Math.ceil(leftMs / 1000);
  const minutes = Math.floor(whole / 60);
  const seconds = whole % 60;
  return { over, minutes, seconds, text: `${minutes}:${String(seconds).padStart(2, '0')}` };
}
