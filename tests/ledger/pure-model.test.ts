import fc from 'fast-check';
import { expect, test } from 'vitest';
import { replay } from '../../core/ledger/replay.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { type Person, STATION_AUTHOR } from '../../core/procedure/person.ts';
import { openSession, ruleOn, type Session, sessionAfter } from '../../core/procedure/session.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import type { Moment } from '../../core/time/moment.ts';
import { readEntries } from '../../electron/station/read-file.ts';
import { type AnyStep, anyStep } from '../station/anything-said.ts';
import { newFolder, startStation } from '../station/station-under-test.ts';
import { type Given, NURSE, open, requestOf, TREATMENT } from '../station/treatment.ts';

/** The procedure by itself: no process, no file, no protocol. What it comes to is what a station ought to come to. */
class Model {
  private readonly start: Moment;
  private nowMs: number;
  session: Session;

  constructor(sessionId: string, start: Moment, by: Person) {
    this.start = start;
    this.nowMs = start.continuousMs;
    this.session = openSession({ sessionId, practice: true, settings: DEFAULT_SETTINGS, at: start, by });
  }

  /** Lets time go by. What comes due on the way is entered at its instant. */
  advanceTo(toMs: number): void {
    for (let due = this.due(toMs); due !== undefined; due = this.due(toMs)) {
      this.nowMs = Math.max(this.nowMs, due.dueAtMs);
      this.ring();
    }
    this.nowMs = Math.max(this.nowMs, toMs);
  }

  /** Gives a command. Returns what it waits for; nothing where it is entered. */
  give({ by, command }: Pick<Given, 'by' | 'command'>): string[] {
    this.ring();
    const ruling = ruleOn(this.session, command, this.moment(), by);
    if (!ruling.taken) return ruling.missing.map((one) => one.text);
    this.session = ruling.session;
    return [];
  }

  private due = (byMs: number) => duesOf(this.session.context).find(({ dueAtMs }) => dueAtMs <= byMs);

  private ring(): void {
    for (let due = this.due(this.nowMs); due !== undefined; due = this.due(this.nowMs)) {
      const after = sessionAfter(this.session, eventOf(due, {}, this.moment(), STATION_AUTHOR));
      if (after === null) throw new Error(`${due.kind} is not taken`);
      this.session = after;
    }
  }

  private moment(): Moment {
    const continuousMs = Math.round(this.nowMs * 1000) / 1000;
    const wallMs = Math.round(this.start.wallMs + this.nowMs - this.start.continuousMs);
    return { ...this.start, continuousMs, wallMs };
  }
}

const course = fc.record({
  done: fc.integer({ min: 0, max: TREATMENT.length - 1 }),
  next: fc.array(anyStep, { minLength: 30, maxLength: 50, size: 'max' }),
});

test('whatever is commanded, a station comes to the record that the procedure by itself comes to', async () => {
  await fc.assert(fc.asyncProperty(course, isAsTheModel), { numRuns: 3, endOnFailure: true });
});

async function isAsTheModel({ done, next }: { done: number; next: AnyStep[] }): Promise<void> {
  const station = await startStation(newFolder(), '--practice', '--stepped');
  const { sessionId } = await open(station);
  const { nowMs, wallMs, offsetMin, boot } = await station.look();
  const model = new Model(sessionId, { continuousMs: nowMs, wallMs, offsetMin, boot }, NURSE);

  async function bothGive(given: Pick<Given, 'by' | 'command'>, atMs: number): Promise<void> {
    model.advanceTo(atMs);
    await station.advanceTo(atMs);
    const waitsFor = model.give(given);
    const reply = await station.ask(requestOf(station, sessionId, given));
    expect(reply.type === 'refused' ? reply.missing.map((one) => one.text) : []).toStrictEqual(waitsFor);
    expect(reply.type).toBe(waitsFor.length > 0 ? 'refused' : 'entered');
  }

  for (const given of TREATMENT.slice(0, done)) await bothGive(given, given.atS * 1000);
  for (const { afterS, ...given } of next) await bothGive(given, station.latest().nowMs + afterS * 1000);
  await station.stop();
  const stored = readEntries(station.database).filter((entry) => entry.sessionId === sessionId);
  expect(replay(stored).context).toStrictEqual(model.session.context);
}
