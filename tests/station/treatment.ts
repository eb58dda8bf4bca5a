import { resolve } from 'node:path';
import type { Command } from '../../core/procedure/commands.ts';
import type { Person } from '../../core/procedure/person.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { readScenario } from '../../electron/rehearsal/scenario.ts';
import { type Entered, newRequestId, type Refused, type StationUnderTest } from './station-under-test.ts';

export const SCENARIOS = resolve(import.meta.dirname, '../scenarios');
export const NURSE: Person = { initials: 'MO', role: 'nurse' };
export const OTHER_NURSE: Person = { initials: 'TK', role: 'nurse' };

/** One command of a treatment, the second it is planned for, and whose hands give it. */
export interface Given {
  readonly atS: number;
  readonly by: Person;
  readonly command: Command;
}

/** Everything that is commanded in a whole treatment, after the session is opened. */
export const TREATMENT: readonly Given[] = readScenario(resolve(SCENARIOS, 'full-session.json')).flatMap(
  ({ atS, by, command }) => (command.kind === 'open-session' ? [] : [{ atS, by, command }]),
);

/** The commands of a whole treatment up to and with the first of a kind. */
export function upTo(kind: Command['kind']): readonly Given[] {
  const index = TREATMENT.findIndex(({ command }) => command.kind === kind);
  if (index < 0) throw new RangeError(`a treatment has no "${kind}"`);
  return TREATMENT.slice(0, index + 1);
}

/** What every new ledger begins with, before anybody has done anything. */
export const BEGINNING = ['station-started', 'settings'] as const;

/** Opens a session. Returns the station's identity of it. */
export async function open(station: StationUnderTest, requestId = newRequestId()): Promise<Entered> {
  return entered(await station.ask(openRequest(requestId)));
}

export const openRequest = (requestId: string) => ({
  type: 'open',
  requestId,
  by: NURSE,
  command: { kind: 'open-session' },
});

/** A command as a screen sends it that shows the session as it is now. */
export function requestOf(station: StationUnderTest, sessionId: string, given: Pick<Given, 'by' | 'command'>) {
  const { seq } = station.view(sessionId);
  return { type: 'command', requestId: newRequestId(), sessionId, seq, by: given.by, command: given.command } as const;
}

/** Gives commands one after the other. One that waits for an instant is given again when the instant has come. */
export async function treat(station: StationUnderTest, sessionId: string, steps: readonly Given[]): Promise<Entered[]> {
  const all: Entered[] = [];
  for (const step of steps) all.push(await giveWhenOpen(station, sessionId, step));
  return all;
}

export async function giveWhenOpen(station: StationUnderTest, sessionId: string, step: Given): Promise<Entered> {
  for (;;) {
    const reply = await station.ask(requestOf(station, sessionId, step));
    if (reply.type !== 'refused') return entered(reply);
    const openAtMs = openingInstant(step.command, reply);
    await station.when((present) => present.nowMs >= openAtMs);
  }
}

/** When what a command waits for has come about by itself. @throws Error where it never will. */
export function openingInstant({ kind }: Command, { missing }: Refused): number {
  return Math.max(
    ...missing.map(({ text, untilAtMs }) => {
      if (untilAtMs === null) throw new Error(`${kind}: ${text}`);
      return untilAtMs;
    }),
  );
}

export function entered(reply: Message): Entered {
  if (reply.type !== 'entered') throw new Error(`not entered: ${JSON.stringify(reply)}`);
  return reply;
}

export function refused(reply: Message): Refused {
  if (reply.type !== 'refused') throw new Error(`not refused: ${JSON.stringify(reply)}`);
  return reply;
}

export const sentences = (reply: Message): string =>
  refused(reply)
    .missing.map((one) => one.text)
    .join('; ');
