import type { DeviationId } from '../../core/ledger/deviations.ts';
import type { Entry } from '../../core/ledger/entry.ts';
import { COMMAND_KINDS, type Command } from '../../core/procedure/commands.ts';
import { instantsFrom, openOccurrences } from '../../core/procedure/cue-occurrences.ts';
import type { CueId } from '../../core/procedure/cue-table.ts';
import type { CueSounded, DueEvent, Rebase, Slept } from '../../core/procedure/due.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { eventOf, type SessionEvent } from '../../core/procedure/events.ts';
import { type Author, STATION_AUTHOR } from '../../core/procedure/person.ts';
import { ruleOn, type Session, sessionAfter } from '../../core/procedure/session.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { momentAt, NURSE, OPENED_AT_MS, opened } from '../session-steps.ts';
import { type CoursePlan, type Machine, stepsOf, type Timed } from './course.ts';

/** An entry of a made-up session before it has its place in a ledger. `sessionId` is null for the station's own. */
export interface Draft {
  readonly sessionId: 'session' | null;
  readonly kind: string;
  readonly payload: Entry['payload'];
  /** On the computer's clock before anything was started anew, so that sessions of a day can be put in order. */
  readonly orderMs: number;
  readonly continuousMs: number;
  /** Whether the computer had been started anew. */
  readonly secondBoot: boolean;
  readonly by: Author;
}

/** A session as the real machine ruled on it, to be stamped with other times and names as often as is wanted. */
export interface Template {
  readonly drafts: readonly Draft[];
  readonly session: Session;
  readonly finds: readonly DeviationId[];
}

/** Plays a planned session through the real machine. @throws Error where a step is not taken. */
export function templateOf(plan: CoursePlan, finds: readonly DeviationId[]): Template {
  const play = new Play(plan);
  for (const step of stepsOf(plan)) play.step(step);
  return { drafts: play.drafts, session: play.session, finds };
}

/** How long after its instant a cue is asked of the sound card, and how long where that is late. */
const SOUNDED_AFTER_MS = 8;
const LATE_MS = 2400;

class Play {
  readonly drafts: Draft[] = [];
  session: Session;
  private readonly plan: CoursePlan;
  private shiftMs = 0;
  private boot = 'boot-one';
  /** Continuous instant up to which cues were told. */
  private toldAtMs = OPENED_AT_MS;

  constructor(plan: CoursePlan) {
    this.plan = plan;
    this.session = opened({}, plan.practice);
    const payload = { practice: plan.practice, settings: DEFAULT_SETTINGS };
    this.draft('open-session', payload, OPENED_AT_MS, NURSE);
  }

  step({ name, atS, by, what }: Timed): void {
    const atMs = OPENED_AT_MS + Math.round(atS * 1000);
    this.ring(atMs);
    if (isCommand(what)) this.command(name, what, atMs, by);
    else this.machine(what, atMs);
  }

  private command(name: string, command: Command, atMs: number, by: Timed['by']): void {
    const ruling = ruleOn(this.session, command, this.moment(atMs), by);
    if (!ruling.taken) throw new Error(`${name}: ${ruling.missing.map(({ text }) => text).join('; ')}`);
    this.enter(ruling.event, atMs);
  }

  private machine(what: Machine, atMs: number): void {
    switch (what.kind) {
      case 'slept':
        this.take(what, atMs);
        break;
      case 'started-anew': {
        this.shiftMs = what.shiftMs;
        this.toldAtMs += what.shiftMs;
        const fromBoot = this.boot;
        this.boot = 'boot-two';
        this.station('station-started', { first: false, asleepMs: 0 }, atMs - 1);
        this.take({ kind: 'rebase', fromBoot, toBoot: this.boot, shiftMs: what.shiftMs }, atMs);
        break;
      }
      case 'clock-stepped':
        this.station('clock-stepped', { byMs: what.byMs }, atMs);
        break;
      case 'zone-changed':
        this.station('zone-changed', { fromMin: 0, toMin: what.byMin }, atMs);
    }
  }

  /** Everything that comes due up to an instant: what the clock enters, and what is told of the cues. */
  private ring(untilMs: number): void {
    const until = untilMs + this.shiftMs;
    for (;;) {
      const [due] = duesOf(this.session.context);
      const cue = this.nextCue(until);
      const dueAtMs = due?.dueAtMs ?? Number.POSITIVE_INFINITY;
      if (due !== undefined && dueAtMs <= until && dueAtMs <= (cue?.dueAtMs ?? until)) {
        this.take(due, dueAtMs - this.shiftMs);
      } else if (cue !== null) {
        this.toldAtMs = cue.dueAtMs;
        if (cue.becomes !== 'untold') this.tell(cue.cue, cue.dueAtMs, cue.becomes, untilMs);
      } else return;
    }
  }

  private nextCue(untilMs: number) {
    const instants = openOccurrences(this.session.context)
      .flatMap((one) => instantsFrom(one).map((dueAtMs) => ({ cue: one.cue, dueAtMs })))
      .filter(({ dueAtMs }) => dueAtMs > this.toldAtMs && dueAtMs <= untilMs)
      .sort((one, other) => one.dueAtMs - other.dueAtMs);
    const [next] = instants;
    if (next === undefined) return null;
    const becomes = this.plan.cue?.id === next.cue ? this.plan.cue.becomes : ('sounded' as const);
    return { ...next, becomes };
  }

  private tell(cue: CueId, dueAtMs: number, outcome: CueSounded['outcome'], untilMs: number): void {
    const lateMs = outcome === 'late' ? LATE_MS : 0;
    const atMs = Math.min(untilMs, dueAtMs - this.shiftMs + lateMs + SOUNDED_AFTER_MS);
    this.take({ kind: 'cue-sounded', cue, dueAtMs, outcome, lateMs }, atMs);
  }

  private take(content: DueEvent | Rebase | Slept | CueSounded, atMs: number): void {
    this.enter(eventOf(content, {}, this.moment(atMs), STATION_AUTHOR), atMs);
  }

  private enter(event: SessionEvent, atMs: number): void {
    const after = sessionAfter(this.session, event);
    if (after === null) throw new Error(`${event.type} is not taken`);
    this.session = after;
    const { kind, ...fields } = event.content;
    const payload = Object.keys(event.found).length === 0 ? fields : { ...fields, found: event.found };
    this.draft(kind, payload, atMs, event.by);
  }

  private station(kind: string, payload: Entry['payload'], atMs: number): void {
    this.draft(kind, payload, atMs, STATION_AUTHOR, null);
  }

  private draft(
    kind: string,
    payload: Entry['payload'],
    atMs: number,
    by: Author,
    sessionId: Draft['sessionId'] = 'session',
  ): void {
    const continuousMs = atMs + this.shiftMs;
    this.drafts.push({
      sessionId,
      kind,
      payload,
      orderMs: atMs,
      continuousMs,
      secondBoot: this.boot !== 'boot-one',
      by,
    });
  }

  private moment(atMs: number) {
    return { ...momentAt(atMs), continuousMs: atMs + this.shiftMs, boot: this.boot };
  }
}

const isCommand = (what: Command | Machine): what is Command =>
  (COMMAND_KINDS as readonly string[]).includes(what.kind);
