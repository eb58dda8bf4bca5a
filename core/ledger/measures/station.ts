import type { SessionRecord } from '../../procedure/record.ts';
import type { Entry } from '../entry.ts';
import type { ClockEventMeasure } from './shape.ts';

const MINUTE_MS = 60_000;

/** The station's own entries about its clock that lie between two entries of a session. */
export function stationClockEvents(
  entries: Iterable<Entry>,
  record: SessionRecord,
  span: { readonly fromSeq: number; readonly toSeq: number },
): ClockEventMeasure[] {
  const events: ClockEventMeasure[] = [];
  for (const entry of entries) {
    const { seq, kind, payload, sessionId } = entry;
    if (sessionId !== null || seq < span.fromSeq || seq > span.toSeq) continue;
    const fromT0Ms = fromT0(entry, record);
    if (kind === 'clock-stepped') {
      events.push({ seq, what: 'clock stepped', byMs: Math.round(Number(payload.byMs)), fromT0Ms });
    }
    if (kind === 'zone-changed') {
      const byMs = (Number(payload.toMin) - Number(payload.fromMin)) * MINUTE_MS;
      events.push({ seq, what: 'zone changed', byMs, fromT0Ms });
    }
  }
  return events;
}

/** By the clock that timers count with; where that was another boot's, by wall time, which is an estimate. */
function fromT0({ boot, continuousMs, wallMs }: Entry, { boot: ownBoot, course }: SessionRecord): number | null {
  if (course === null) return null;
  return Math.round(boot === ownBoot ? continuousMs - course.t0AtMs : wallMs - course.t0WallMs);
}
