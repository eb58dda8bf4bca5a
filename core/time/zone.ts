/** Whether this is a time zone that the machine knows by this name. */
export function isZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== undefined;
  } catch {
    return false;
  }
}
