import type { Entry } from '../ledger/entry.ts';
import type { SessionRecord } from '../procedure/record.ts';

/**
 * Seconds from the pump's start (T0, as finally stated) for every entry of a session, in their order: counted on the
 * continuous clock, negative before the start. After a reboot instants were re-based, and the seconds are that
 * estimate. Null before there is a T0, and where the entry's boot has no known relation to T0's.
 */
export function secondsFromT0(
  entries: readonly Entry[],
  record: Pick<SessionRecord, 'course' | 'boot'> | null,
): (number | null)[] {
  const t0AtMs = record?.course?.t0AtMs;
  if (record === null || t0AtMs === undefined) return entries.map(() => null);
  const shiftMs = shiftsTo(record.boot, entries);
  return entries.map(({ continuousMs, boot }) => {
    const byMs = shiftMs.get(boot);
    return byMs === undefined ? null : Math.round(continuousMs + byMs - t0AtMs) / 1000;
  });
}

/** How far instants of each earlier boot were moved in all to lie on the clock of the last. */
function shiftsTo(lastBoot: string, entries: readonly Entry[]): Map<string, number> {
  const shiftMs = new Map([[lastBoot, 0]]);
  for (const { kind, payload } of entries.toReversed()) {
    if (kind !== 'rebase') continue;
    const onward = shiftMs.get(String(payload.toBoot));
    if (onward !== undefined) shiftMs.set(String(payload.fromBoot), onward + Number(payload.shiftMs));
  }
  return shiftMs;
}
