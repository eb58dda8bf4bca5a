import { type SessionRecord, stateOf } from '../procedure/record.ts';
import type { Session } from '../procedure/session.ts';
import type { Entry } from './entry.ts';
import { courseMeasures, NO_COURSE } from './measures/course.ts';
import { cueMeasures } from './measures/cues.ts';
import { Noted } from './measures/noted.ts';
import type { ClockEventMeasure, SessionMeasures } from './measures/shape.ts';
import { stationClockEvents } from './measures/station.ts';
import { after, opened } from './replay.ts';

export type * from './measures/shape.ts';

/** Of the way measures are taken: raised when the same entries would give others, so that what was kept is dropped. */
export const MEASURES_VERSION = 1;

/**
 * Takes a session's measures from its entries, in order. An entry that the procedure does not take ends the reading:
 * the measures are then those up to there, and say so in `readTo` and `trouble`.
 *
 * `stationEntries` are entries without a session; those outside the session's own span are left out.
 *
 * @throws RangeError where there is no entry at all.
 */
export function measuresOf(entries: Iterable<Entry>, stationEntries: Iterable<Entry> = []): SessionMeasures {
  const read = readThrough(entries);
  const { first, last, session, noted } = read;
  const record = session?.context ?? null;
  const course = record === null ? NO_COURSE : courseMeasures(record, noted, read.readAtMs);
  return {
    sessionId: first.sessionId ?? '',
    practice: record?.practice ?? first.payload.practice === true,
    openedWallMs: first.wallMs,
    offsetMin: first.offsetMin,
    firstSeq: first.seq,
    lastSeq: last.seq,
    entries: read.count,
    state: record === null ? 'planning' : stateOf(record),
    patientCode: record?.patient?.patientCode ?? null,
    regimenId: record?.order?.regimenId ?? null,
    regimenName: record?.order?.regimen.name ?? null,
    eyes: record?.order?.lesions.map(({ eye }) => eye) ?? [],
    lots: [...noted.lots],
    people: [...noted.people.values()],
    ...course,
    stoppedEarly: stopOf(record, noted),
    latePresses: noted.latePresses,
    overriddenGuards: noted.overrides,
    clockEvents: clockEvents(record, noted, stationEntries, first.seq),
    cues: record === null ? [] : cueMeasures(record, noted),
    doubleChecks: noted.doubleChecks,
    statedDeviations: noted.stated,
    readTo: read.readTo,
    trouble: read.trouble,
  };
}

interface ReadThrough {
  readonly first: Entry;
  readonly last: Entry;
  readonly count: number;
  /** Null where not even the opening could be read. */
  readonly session: Session | null;
  readonly noted: Noted;
  /** Continuous instant of the last entry that was read. */
  readonly readAtMs: number;
  readonly readTo: number;
  readonly trouble: SessionMeasures['trouble'];
}

/** One pass: every entry is folded as replay folds it, and what the record does not keep is noted beside it. */
function readThrough(entries: Iterable<Entry>): ReadThrough {
  let first: Entry | null = null;
  let last: Entry | null = null;
  let count = 0;
  let session: Session | null = null;
  const noted = new Noted();
  let readAtMs = 0;
  let readTo = 0;
  let trouble: SessionMeasures['trouble'] = null;
  for (const entry of entries) {
    first ??= entry;
    last = entry;
    count += 1;
    if (trouble !== null) continue;
    try {
      const next: Session = session === null ? opened(entry) : after(session, entry);
      noted.take(entry, session?.context ?? null, next.context);
      session = next;
      readAtMs = entry.continuousMs;
      readTo = entry.seq;
    } catch (error) {
      const says = error instanceof Error ? error.message : String(error);
      trouble = { seq: entry.seq, says: says.replace(/^entry \d+: /, '') };
    }
  }
  if (first === null || last === null) throw new RangeError('A session without entries has no measures.');
  return { first, last, count, session, noted, readAtMs, readTo, trouble };
}

function stopOf(record: SessionRecord | null, noted: Noted): SessionMeasures['stoppedEarly'] {
  const { stopped = null, course = null } = record ?? {};
  if (stopped === null || noted.stopSeq === null) return null;
  const fromT0Ms = course === null ? null : Math.round(stopped.atMs - course.t0AtMs);
  return { seq: noted.stopSeq, reason: stopped.reason, fromT0Ms };
}

/** Those of the session and those of the station while it lasted, in order. */
function clockEvents(
  record: SessionRecord | null,
  noted: Noted,
  stationEntries: Iterable<Entry>,
  firstSeq: number,
): ClockEventMeasure[] {
  const t0AtMs = record?.course?.t0AtMs ?? null;
  const own = noted.clocks.map(
    ({ atMs, ...rest }): ClockEventMeasure => ({
      ...rest,
      fromT0Ms: t0AtMs === null ? null : Math.round(atMs - t0AtMs),
    }),
  );
  const span = { fromSeq: firstSeq, toSeq: noted.endSeq };
  const others = record === null ? [] : stationClockEvents(stationEntries, record, span);
  return [...own, ...others].sort((one, other) => one.seq - other.seq);
}
