/** What is known of a key press. */
export type Pressed = Pick<KeyboardEvent, 'key' | 'code' | 'shiftKey'>;

/**
 * The number from 1 to 9 that a key stands for where something is chosen by number; null where it stands for none. By
 * what it writes or else, without Shift, by its place: on some keyboards the row of digits writes them only with Shift.
 */
export function numberKey({ key, code, shiftKey }: Pressed): number | null {
  if (/^[1-9]$/.test(key)) return Number(key);
  const place = shiftKey ? null : /^Digit([1-9])$/.exec(code);
  return place === null ? null : Number(place[1]);
}
