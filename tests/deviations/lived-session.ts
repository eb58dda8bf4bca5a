import type { Entry } from '../../core/ledger/entry.ts';
import { measuresOf, type SessionMeasures } from '../../core/ledger/measures.ts';
import type { Command } from '../../core/procedure/commands.ts';
import { CUE_IDS, CUE_TABLE, type CueId } from '../../core/procedure/cue-table.ts';
import type { CueSounded, Rebase, Slept } from '../../core/procedure/due.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { eventOf, type SessionEvent } from '../../core/procedure/events.ts';
import { type Person, STATION_AUTHOR } from '../../core/procedure/person.ts';
import { ruleOn, type Session, sessionAfter } from '../../core/procedure/session.ts';
import type { Moment } from '../../core/time/moment.ts';
import { chained, type EntryDraft, entriesOf, momentAt, NURSE, OPENED_AT_MS, opened } from '../session-steps.ts';

/** Something that happens at an instant: a person's command, or what the station itself enters into a session. */
export type Happening =
  | { readonly atMs: number; readonly by?: Person; readonly command: Command }
  | { readonly atMs: number; readonly event: Slept | Rebase | CueSounded };

/** What the station enters about itself. */
export interface StationNote {
  readonly atMs: number;
  readonly kind: string;
  readonly payload: Entry['payload'];
}

/** What becomes of a cue; null where no window tells. */
export type CueFate = (cue: CueId, dueAtMs: number) => Pick<CueSounded, 'outcome' | 'lateMs'> | null;

export const ALL_SOUNDED: CueFate = () => ({ outcome: 'sounded', lateMs: 0 });

export interface Lived {
  /** All entries of the ledger, in order. */
  readonly all: readonly Entry[];
  readonly entries: readonly Entry[];
  readonly stationEntries: readonly Entry[];
  readonly measures: SessionMeasures;
  /** The sequence of the only entry of that kind, or of the one that `which` picks. */
  readonly seqOf: (kind: string, which?: (payload: Entry['payload']) => boolean) => number;
}

/**
 * Lives a session through with a station around it: what comes due is entered at its instant, and what became of its
 * cue right after. Instants are those of a clock that no restart touches; after a re-basing the entries have another.
 */
export function live(happenings: readonly Happening[], fate = ALL_SOUNDED, notes: readonly StationNote[] = []): Lived {
  const events: SessionEvent[] = [];
  let session = opened();
  let shiftMs = 0;
  const clock = (atMs: number): Moment => {
    const at = momentAt(atMs);
    return shiftMs === 0 ? at : { ...at, continuousMs: at.continuousMs + shiftMs, boot: 'boot-two' };
  };
  const enter = (event: SessionEvent): void => {
    const next = sessionAfter(session, event);
    if (next === null) throw new Error(`${event.type} is not taken`);
    events.push(event);
    session = next;
  };
  const ring = (untilAtMs: number): void => {
    const [due] = duesOf(session.context);
    if (due === undefined || due.dueAtMs - shiftMs > untilAtMs) return;
    const at = clock(due.dueAtMs - shiftMs);
    const cue = CUE_IDS.find((id) => CUE_TABLE[id].of === due.kind && CUE_TABLE[id].aheadMs === 0);
    enter(eventOf(due, {}, at, STATION_AUTHOR));
    const told = cue === undefined ? null : fate(cue, due.dueAtMs);
    if (cue !== undefined && told !== null) {
      enter(eventOf({ kind: 'cue-sounded', cue, dueAtMs: due.dueAtMs, ...told }, {}, at, STATION_AUTHOR));
    }
    ring(untilAtMs);
  };
  for (const happening of [...happenings].sort((one, other) => one.atMs - other.atMs)) {
    ring(happening.atMs);
    if ('command' in happening) {
      const { command, by = NURSE } = happening;
      enter(taken(session, command, clock(happening.atMs), by));
    } else {
      if (happening.event.kind === 'rebase') shiftMs = happening.event.shiftMs;
      enter(eventOf(happening.event, {}, clock(happening.atMs), STATION_AUTHOR));
    }
  }
  return lived(events, notes);
}

function taken(session: Session, command: Command, at: Moment, by: Person): SessionEvent {
  const ruling = ruleOn(session, command, at, by);
  if (!ruling.taken) throw new Error(`${command.kind}: ${ruling.missing.map(({ text }) => text).join('; ')}`);
  return ruling.event;
}

function lived(events: readonly SessionEvent[], notes: readonly StationNote[]): Lived {
  const drafts: EntryDraft[] = entriesOf(events).map(({ seq: _seq, prevHash: _prev, hash: _hash, ...draft }) => draft);
  const noted = notes.map(({ atMs, kind, payload }): EntryDraft => {
    const at = momentAt(atMs);
    return { sessionId: null, kind, payload, ...at, author: STATION_AUTHOR, commandId: null };
  });
  const all = chained([...drafts, ...noted].sort((one, other) => one.wallMs - other.wallMs));
  const entries = all.filter(({ sessionId }) => sessionId !== null);
  const stationEntries = all.filter(({ sessionId }) => sessionId === null);
  const seqOf: Lived['seqOf'] = (kind, which = () => true) => {
    const found = all.filter((entry) => entry.kind === kind && which(entry.payload));
    const [only] = found;
    if (only === undefined || found.length > 1) throw new Error(`${found.length} entries "${kind}" instead of one`);
    return only.seq;
  };
  return { all, entries, stationEntries, measures: measuresOf(entries, stationEntries), seqOf };
}

export const atS = (seconds: number): number => OPENED_AT_MS + seconds * 1000;
