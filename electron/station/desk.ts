import { randomUUID } from 'node:crypto';
import type { Entry } from '../../core/ledger/entry.ts';
import { after, opened, replay } from '../../core/ledger/replay.ts';
import { anchorText } from '../../core/ledger/verify.ts';
import type { Guide } from '../../core/practice/guide-schema.ts';
import type { Command } from '../../core/procedure/commands.ts';
import { instantAwaited, SAME_INSTANT_MS } from '../../core/procedure/cue-occurrences.ts';
import type { CueSounded, DueEvent, Rebase } from '../../core/procedure/due.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import type { Found } from '../../core/procedure/events.ts';
import { type Author, type Person, STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type SessionRecord, stateOf } from '../../core/procedure/record.ts';
import { ruleOn, type Session } from '../../core/procedure/session.ts';
import { UNDER_WAY } from '../../core/procedure/states.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { type Message, PROTOCOL, type Snapshot } from '../../core/protocol/messages.ts';
import type { WhoMay } from '../../core/protocol/people.ts';
import type { SettingsChangeAsked } from '../../core/protocol/settings.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { Settings } from '../../core/settings/settings.ts';
import type { Moment } from '../../core/time/moment.ts';
import type { Clock } from './clock.ts';
import type { HouseRules } from './house.ts';
import type { Draft, Head } from './ledger.ts';
import { settingsProposed } from './settings-in-force.ts';
import type { Ledger } from './steadfast-ledger.ts';
import type { TimeEvent } from './watch.ts';

interface Held {
  readonly session: Session;
  /** The session's last entry. */
  readonly seq: number;
  /** Its last entry by a person: what another screen may not have seen yet. */
  readonly personSeq: number;
}

type Answer = Extract<Message, { type: 'entered' | 'refused' | 'error' }>;
type Refused = Extract<Message, { type: 'refused' }>;

/**
 * Where commands are ruled on and become entries. Nothing is known here that the ledger does not say: an entry is
 * written first, then folded, then shown.
 */
export class Desk {
  private readonly ledger: Ledger;
  private readonly clock: Clock;
  private readonly practice: boolean;
  private house: HouseRules;
  private settingsSeq: number;
  private readonly held = new Map<string, Held>();
  private front: string | null = null;
  private trouble: readonly string[] = [];
  private whoMay: () => WhoMay = () => ({ kind: 'as typed' });
  private guide: (record: SessionRecord, view: SessionView) => Guide | null = () => null;

  constructor(ledger: Ledger, clock: Clock, practice: boolean, house: HouseRules, settingsSeq = 0) {
    this.ledger = ledger;
    this.clock = clock;
    this.practice = practice;
    this.house = house;
    this.settingsSeq = settingsSeq;
  }

  /**
   * Takes up every session that has not ended, where its entries leave it. Returns how many, and which cannot be: one
   * whose entries were changed behind the ledger's back says nothing that may be gone on with.
   */
  takeUp(): { sessions: number; trouble: string[] } {
    const now = this.clock.now();
    const trouble: string[] = [];
    for (const sessionId of this.ledger.openSessions()) {
      try {
        this.fold(sessionId);
        this.rebase(sessionId, now);
        this.front = sessionId;
      } catch (error) {
        trouble.push(`session ${sessionId} cannot be taken up: ${error instanceof Error ? error.message : error}`);
      }
    }
    return { sessions: this.held.size, trouble };
  }

  open(commandId: string, by: Person): Answer {
    const before = this.ledger.entryOfCommand(commandId);
    if (before?.sessionId != null) return entered(commandId, before.sessionId, before.seq);
    const sessionId = randomUUID();
    const payload = { practice: this.practice, settings: this.house.settings };
    const entry = this.write({ sessionId, kind: 'open-session', payload, at: this.clock.now(), by, commandId });
    this.front = sessionId;
    return entered(commandId, sessionId, entry.seq);
  }

  command(commandId: string, sessionId: string, seenSeq: number, by: Person, command: Command): Answer {
    const before = this.ledger.entryOfCommand(commandId);
    if (before?.sessionId != null) return entered(commandId, before.sessionId, before.seq);
    const held = this.holding(sessionId);
    if (held === null) return refused(commandId, 'there is no such session in this ledger');
    if (seenSeq < held.personSeq)
      return refused(commandId, 'something was entered a moment ago: look, then press again');
    const strange = this.strangeEntry(sessionId, command);
    if (strange !== null) return refused(commandId, strange);

    this.ringBefore(this.clock.now());
    const at = this.clock.now();
    const { session } = this.holding(sessionId) ?? held;
    const ruling = ruleOn(session, command, at, by, this.house);
    if (!ruling.taken) {
      const missing = ruling.missing.map(({ text, untilAtMs }) => ({ text, untilAtMs }));
      return { type: 'refused', requestId: commandId, missing };
    }
    const { kind, ...fields } = command;
    const payload = { ...fields, ...foundOf(ruling.event.found) };
    const entry = this.write({ sessionId, kind, payload, at, by, commandId });
    return entered(commandId, sessionId, entry.seq);
  }

  /**
   * Enters what became of a cue, once. Null, and nothing entered, where there is nothing to say it of: the session is
   * not held or is over, it has no such instant, that is still to come, or it is known already.
   */
  cueSounded(requestId: string, sessionId: string, sounded: Omit<CueSounded, 'kind'>): Answer | null {
    this.ringBefore(this.clock.now());
    const at = this.clock.now();
    const session = this.held.get(sessionId)?.session;
    if (session === undefined || isOver(session)) return null;
    const dueAtMs = instantAwaited(session.context, sounded.cue, sounded.dueAtMs);
    if (dueAtMs === null || dueAtMs > at.continuousMs + SAME_INSTANT_MS) return null;
    const payload = { ...sounded, dueAtMs };
    const entry = this.write({ sessionId, kind: 'cue-sounded', payload, at, by: STATION_AUTHOR, commandId: null });
    return entered(requestId, sessionId, entry.seq);
  }

  /** Enters every instant that has come due. Returns whether there was any. */
  ringBefore(now: Moment): boolean {
    let rang = false;
    for (let due = this.nextDue(); due !== null && due.due.dueAtMs <= now.continuousMs; due = this.nextDue()) {
      const { kind, ...payload } = due.due;
      this.write({ sessionId: due.sessionId, kind, payload, at: now, by: STATION_AUTHOR, commandId: null });
      rang = true;
    }
    return rang;
  }

  /** The instant that comes due next, over all sessions. */
  nextDue(): { sessionId: string; due: DueEvent } | null {
    let next: { sessionId: string; due: DueEvent } | null = null;
    for (const [sessionId, { session }] of this.held) {
      const [due] = duesOf(session.context);
      if (due !== undefined && (next === null || due.dueAtMs < next.due.dueAtMs)) next = { sessionId, due };
    }
    return next;
  }

  /** The site's settings in force. A session that is open has those it was opened with. */
  get settings(): Settings {
    return this.house.settings;
  }

  /** Enters a change of settings by a person, and works by them from then on. Nothing changes where it is refused. */
  changeSettings(commandId: string, asked: SettingsChangeAsked): Message {
    const before = this.ledger.entryOfCommand(commandId);
    if (before?.kind === 'settings') return { type: 'settings-changed', requestId: commandId, seq: before.seq };
    const proposed = settingsProposed(asked, this.ledger.lastOfKind('settings'));
    if (!proposed.ok) return { type: 'error', requestId: commandId, says: proposed.says };
    const { payload, settings } = proposed;
    const { by } = asked;
    const entry = this.ledger.append({
      sessionId: null,
      kind: 'settings',
      payload,
      at: this.clock.now(),
      by,
      commandId,
    });
    this.house = { ...this.house, settings };
    this.settingsSeq = entry.seq;
    return { type: 'settings-changed', requestId: commandId, seq: entry.seq };
  }

  /** What is wrong with the station's own files, for every screen to show. */
  troubled(trouble: readonly string[]): void {
    this.trouble = trouble;
  }

  bringForward(sessionId: string): void {
    if (this.holding(sessionId) !== null) this.front = sessionId;
  }

  /** What happened to the machine's time. A sleep concerns every session under way: each asks for a look at the pump. */
  noteTime({ kind, ...payload }: TimeEvent): void {
    const at = this.clock.now();
    if (kind !== 'slept') this.note(kind, payload);
    const concerned = kind === 'slept' ? [...this.held].filter(([, { session }]) => isUnderWay(session)) : [];
    for (const [sessionId] of concerned) {
      this.write({ sessionId, kind, payload, at, by: STATION_AUTHOR, commandId: null });
    }
    if (kind === 'slept' && concerned.length === 0) this.note(kind, payload);
  }

  /** An entry about the station itself, or its people. */
  note(kind: string, payload: Entry['payload'], by: Author = STATION_AUTHOR): void {
    const entry = this.ledger.append({ sessionId: null, kind, payload, at: this.clock.now(), by, commandId: null });
    if (kind === 'settings') this.settingsSeq = entry.seq;
  }

  /** Who may sign in, for every screen to show. */
  admits(whoMay: () => WhoMay): void {
    this.whoMay = whoMay;
  }

  /** What guided practice tells beside the session in front. */
  guidedBy(guide: (record: SessionRecord, view: SessionView) => Guide): void {
    this.guide = guide;
  }

  /** The session in front, where it is held. */
  inFront(): SessionRecord | null {
    return this.front === null ? null : (this.held.get(this.front)?.session.context ?? null);
  }

  snapshot(): Snapshot {
    const now = this.clock.now();
    const shown = [...this.held].filter(([id, { session }]) => id === this.front || !isOver(session));
    const last = this.ledger.last();
    const sessions = shown.map(([, { session, seq }]) => viewOf(session.context, seq, now));
    const record = this.inFront();
    const front = sessions.find(({ sessionId }) => sessionId === this.front);
    return {
      type: 'snapshot',
      protocol: PROTOCOL,
      nowMs: now.continuousMs,
      wallMs: now.wallMs,
      offsetMin: now.offsetMin,
      boot: now.boot,
      rate: this.clock.rate,
      practice: this.practice,
      settings: this.house.settings,
      settingsSeq: this.settingsSeq,
      whoMay: this.whoMay(),
      regimens: [...this.house.regimens],
      trouble: [...this.house.trouble, ...this.trouble],
      notYetSafe: this.ledger.notYetSafe(),
      written: last && {
        seq: last.seq,
        hash: last.hash,
        wallMs: last.wallMs,
        offsetMin: last.offsetMin,
        anchor: anchorWords(last, this.ledger.fileId()),
      },
      sessions,
      front: this.front,
      guide: record === null || front === undefined ? null : this.guide(record, front),
    };
  }

  /** A session's present, read from the ledger where it is not held. */
  holding(sessionId: string): Held | null {
    if (!this.held.has(sessionId) && this.ledger.hasSession(sessionId)) this.fold(sessionId);
    return this.held.get(sessionId) ?? null;
  }

  /** Why an addendum cannot be about the entry it names; null where it can, or names none. */
  private strangeEntry(sessionId: string, command: Command): string | null {
    if (command.kind !== 'addendum' || command.entrySeq === undefined) return null;
    const { entrySeq } = command;
    const [entry] = this.ledger.entriesOf(sessionId, entrySeq - 1, 1);
    return entry?.seq === entrySeq ? null : `entry ${entrySeq} is not one of this session: name one that is`;
  }

  private write(draft: Draft & { sessionId: string }): Entry {
    const entry = this.ledger.append(draft);
    const held = this.held.get(draft.sessionId);
    const session = held === undefined ? opened(entry) : after(held.session, entry);
    const personSeq = isStation(entry.author) ? (held?.personSeq ?? 0) : entry.seq;
    this.held.set(draft.sessionId, { session, seq: entry.seq, personSeq });
    return entry;
  }

  private fold(sessionId: string): void {
    const entries = this.ledger.entriesOf(sessionId);
    const session = replay(entries);
    const seq = entries.at(-1)?.seq ?? 0;
    const personSeq = entries.findLast((entry) => !isStation(entry.author))?.seq ?? seq;
    this.held.set(sessionId, { session, seq, personSeq });
  }

  /**
   * After a reboot the continuous clock is another: instants are moved onto it as wall time says they lie. By the last
   * entry of the boot before, whatever it is about: wall time may have stepped since the session's own last, and that
   * it did is an entry.
   */
  private rebase(sessionId: string, now: Moment): void {
    const record = this.held.get(sessionId)?.session.context;
    if (record === undefined || record.boot === now.boot) return;
    const last = this.ledger.lastOfBoot(record.boot);
    if (last === null) return;
    const elapsedMs = now.wallMs - last.wallMs;
    const shiftMs = now.continuousMs - elapsedMs - last.continuousMs;
    const rebase: Rebase = { kind: 'rebase', fromBoot: record.boot, toBoot: now.boot, shiftMs };
    const { kind, ...payload } = rebase;
    this.write({ sessionId, kind, payload, at: now, by: STATION_AUTHOR, commandId: null });
  }
}

const isStation = (author: Author): boolean => author.role === 'station';
const isUnderWay = (session: Session): boolean => UNDER_WAY.includes(stateOf(session.context));
const isOver = (session: Session): boolean => stateOf(session.context) === 'discharged';

/** Only what was found; an entry carries no empty places. */
const foundOf = (found: Found): { found?: Found } => (Object.keys(found).length === 0 ? {} : { found });

const entered = (requestId: string, sessionId: string, seq: number): Answer => ({
  type: 'entered',
  requestId,
  sessionId,
  seq,
});

const refused = (requestId: string, text: string): Refused => ({
  type: 'refused',
  requestId,
  missing: [{ text, untilAtMs: null }],
});

const anchorWords = ({ seq, hash }: Head, fileId: string | null): string | null =>
  fileId === null ? null : anchorText({ fileId, seq, hash });
