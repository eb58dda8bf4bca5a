import { randomUUID } from 'node:crypto';
import { setTimeout as passed } from 'node:timers/promises';
import type { Command } from '../../core/procedure/commands.ts';
import type { Person } from '../../core/procedure/person.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { Acknowledged, Asked, Bench } from './bench.ts';
import { Loss, must } from './loss.ts';

/** Time is let go by without waiting up to this long before an instant, which then comes by itself. */
const BEFORE_DUE_MS = 80;
const AFTER_DUE_MS = 25;

const NURSE: Person = { initials: 'MO', role: 'nurse' };

/** A session being treated on a bench: gives its commands, whatever befalls the station meanwhile. */
export class Treatment {
  readonly bench: Bench;
  sessionId = '';

  constructor(bench: Bench) {
    this.bench = bench;
  }

  async open(): Promise<void> {
    const request = { type: 'open', requestId: randomUUID(), by: NURSE, command: { kind: 'open-session' } } as const;
    const sentMs = this.bench.machine.trueMs();
    const reply = await this.bench.station.ask(request);
    if (reply.type !== 'entered') throw new Loss(`no session could be opened: ${JSON.stringify(reply)}`);
    this.sessionId = reply.sessionId;
    this.acknowledge(request, reply.seq, sentMs);
  }

  view(): SessionView {
    return this.bench.view(this.bench.station.latest(), this.sessionId);
  }

  /** Gives a command; `killedWhile` ends the station while the command is under way, and sends it again to the next. */
  async give(command: Command, by: Person, killedWhile: (() => Promise<void>) | null = null): Promise<Acknowledged> {
    let request = await this.requestOf(command, by);
    const sentMs = this.bench.machine.trueMs();
    if (killedWhile !== null) {
      this.bench.station.tell(request);
      await killedWhile();
    }
    for (;;) {
      const reply = await this.bench.station.ask(request);
      if (reply.type === 'entered') return this.acknowledge(request, reply.seq, sentMs);
      if (reply.type === 'error') throw new Loss(`${command.kind} was not taken: ${reply.says}`);
      await this.bringAbout(command, reply.missing);
      request = await this.requestOf(command, by);
    }
  }

  /** What a refused command waits for: an instant that comes, or somebody's look at the pump after a sleep. */
  private async bringAbout(command: Command, missing: readonly { text: string; untilAtMs: number | null }[]) {
    const slept = missing.find(({ text }) => text.startsWith('this computer slept'));
    if (slept !== undefined) {
      await this.give({ kind: 'looked', pump: this.bench.chance.among(['ran on', 'stood still'] as const) }, NURSE);
      return;
    }
    const untilAtMs = Math.max(...missing.map((one) => one.untilAtMs ?? Number.POSITIVE_INFINITY));
    const words = missing.map(({ text }) => text).join('; ');
    must(Number.isFinite(untilAtMs), () => `${command.kind} was refused: ${words}`);
    await this.bringTo(this.bench.trueMs(untilAtMs, this.bench.station.latest().boot) + 1);
  }

  /** Lets time go by up to a true instant; each due instant on the way comes by itself. */
  async bringTo(trueMs: number): Promise<void> {
    for (let due = await this.nextDueMs(); due !== null && due <= trueMs; due = await this.nextDueMs()) {
      await this.leapTo(due - BEFORE_DUE_MS);
      await passed(Math.max(0, due - this.bench.machine.trueMs()) + AFTER_DUE_MS);
    }
    await this.leapTo(trueMs);
  }

  private async leapTo(trueMs: number): Promise<void> {
    const aheadMs = trueMs - this.bench.machine.trueMs();
    if (aheadMs > 0) await this.bench.move({ awakeMs: this.bench.machine.state.awakeMs + aheadMs });
  }

  /** True instant of the running timer that ends next and has not ended yet. */
  private async nextDueMs(): Promise<number | null> {
    const { nowMs, boot } = await this.bench.station.look();
    const dues = this.view().timers.flatMap(({ phase, dueAtMs }) =>
      phase === 'running' && dueAtMs !== null && dueAtMs > nowMs ? [dueAtMs] : [],
    );
    return dues.length === 0 ? null : this.bench.trueMs(Math.min(...dues), boot);
  }

  private async requestOf(command: Command, by: Person): Promise<Asked> {
    await this.bench.station.look();
    const { seq } = this.view();
    return { type: 'command', requestId: randomUUID(), sessionId: this.sessionId, seq, by, command };
  }

  private acknowledge(request: Asked, seq: number, sentMs: number): Acknowledged {
    const one = { request, seq, sentMs, heardMs: this.bench.machine.trueMs() };
    this.bench.acknowledged.push(one);
    return one;
  }
}
