import type { Eye } from './commands.ts';
import { CUE_IDS, CUE_TABLE, type CueId } from './cue-table.ts';
import type { DueKind } from './due.ts';
import { OVER } from './dues.ts';
import { deliveredMs, type Exposure } from './exposure.ts';
import { infusionDueAtMs } from './infusion.ts';
import { type Course, type SessionRecord, stateOf } from './record.ts';
import { FLUSH_MS, IN_USE_MS } from './spans.ts';

/** A cue of a session, with every repeat of it. */
export interface Occurrence {
  readonly cue: CueId;
  readonly eye: Eye | null;
  /** When it sounds first, on the station's continuous clock. */
  readonly firstAtMs: number;
}

/** Instants of one cue nearer than this are the same instant. */
export const SAME_INSTANT_MS = 50;

const sameInstant = (one: number, other: number): boolean => Math.abs(one - other) <= SAME_INSTANT_MS;

/** Every instant at which a cue sounds, the first and its repeats. */
export function instantsFrom({ cue, firstAtMs }: Pick<Occurrence, 'cue' | 'firstAtMs'>): number[] {
  const { repeats } = CUE_TABLE[cue];
  const times = repeats?.mostTimes ?? 1;
  return Array.from({ length: times }, (_, index) => firstAtMs + index * (repeats?.everyMs ?? 0));
}

/** The cues that still have something to tell: neither answered by a step nor heard by somebody. */
export function openOccurrences(record: SessionRecord): Occurrence[] {
  if (OVER.includes(stateOf(record))) return [];
  return occurrencesOf(record, (instant) => !instant.over).filter((one) => !isHushed(record, one));
}

/** Those that have begun to sound and would sound again. */
export function repeatingNow(record: SessionRecord, atMs: number): Occurrence[] {
  return openOccurrences(record).filter((one) => {
    const { repeats } = CUE_TABLE[one.cue];
    const lastAtMs = instantsFrom(one).at(-1) ?? one.firstAtMs;
    return repeats !== null && one.firstAtMs <= atMs && atMs < lastAtMs;
  });
}

/** The latest instant of a cue of which the record says what became of it; null where it says nothing of that cue. */
export function soundedUntil(record: SessionRecord, cue: CueId): number | null {
  const instants = record.cuesSounded.filter((one) => one.cue === cue).map(({ dueAtMs }) => dueAtMs);
  return instants.length === 0 ? null : Math.max(...instants);
}

/**
 * The instant of a cue that a session has or had at `dueAtMs`, as exactly as the session knows it; null where it never
 * had one there, or where the record says already what became of it.
 */
export function instantAwaited(record: SessionRecord, cue: CueId, dueAtMs: number): number | null {
  const told = record.cuesSounded.some((one) => one.cue === cue && sameInstant(one.dueAtMs, dueAtMs));
  const instants = occurrencesOf(record, () => true)
    .filter((one) => one.cue === cue)
    .flatMap(instantsFrom);
  return told ? null : (instants.find((instant) => sameInstant(instant, dueAtMs)) ?? null);
}

/** Whoever says that a cue was heard means this one, and not one that comes later. */
const isHushed = (record: SessionRecord, { cue, firstAtMs }: Occurrence): boolean =>
  record.cuesHeard.some((heard) => heard.cue === cue && heard.atMs >= firstAtMs);

function occurrencesOf(record: SessionRecord, which: (instant: Instant) => boolean): Occurrence[] {
  return CUE_IDS.flatMap((cue) => {
    const { of, aheadMs } = CUE_TABLE[cue];
    const instants = INSTANTS[of](record).filter(which);
    return instants.map(({ eye = null, atMs }) => ({ cue, eye, firstAtMs: atMs - aheadMs }));
  });
}

/** An instant that cues belong to; `over` once what it was waited for is done, or can no longer come about. */
interface Instant {
  readonly atMs: number;
  readonly over: boolean;
  readonly eye?: Eye;
}

const ofCourse =
  (instants: (course: Course) => Instant[]) =>
  ({ course }: SessionRecord): Instant[] =>
    course === null ? [] : instants(course);

const INSTANTS: Record<DueKind, (record: SessionRecord) => Instant[]> = {
  'drug-expiry-due': ({ reconstitutedAtMs, course }) =>
    reconstitutedAtMs === null
      ? []
      : [{ atMs: reconstitutedAtMs + IN_USE_MS, over: course !== null && course.infusion.pumpOffAtMs !== null }],
  'infusion-due': infusionEnd,
  'flush-due': ofCourse(({ flush }) =>
    flush === null ? [] : [{ atMs: flush.beganAtMs + FLUSH_MS, over: flush.endedAtMs !== null }],
  ),
  'light-due': ofCourse(({ lightDueAtMs, exposures }) => [{ atMs: lightDueAtMs, over: exposures.some(hasBegun) }]),
  'exposure-due': ofCourse(({ exposures }) => exposures.flatMap(exposureEnds)),
  'second-eye-due': ofCourse(({ secondEyeDueAtMs, exposures }) =>
    secondEyeDueAtMs === null ? [] : [{ atMs: secondEyeDueAtMs, over: exposures.every(hasBegun) }],
  ),
};

/** Held, or with the pump off, the infusion has no end to come; one that came is known by its entry. */
function infusionEnd({ course, rung }: SessionRecord): Instant[] {
  const dueAtMs = course === null ? null : infusionDueAtMs(course.infusion);
  const past = rung['infusion-due'];
  if (dueAtMs !== null) return [{ atMs: dueAtMs, over: false }];
  return past === undefined ? [] : [{ atMs: past.dueAtMs, over: true }];
}

const hasBegun = ({ beams }: Exposure): boolean => beams.length > 0;

/** Each stretch of light has its end; one begun after the ordered seconds were given is at its end at once. */
function exposureEnds(exposure: Exposure): Instant[] {
  return exposure.beams.map(({ onAtMs, offAtMs }, index) => {
    const given = deliveredMs({ ...exposure, beams: exposure.beams.slice(0, index) }, onAtMs);
    const atMs = onAtMs + Math.max(0, exposure.plannedMs - given);
    return { atMs, over: offAtMs !== null, eye: exposure.eye };
  });
}
