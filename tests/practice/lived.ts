import fc from 'fast-check';
import type { MadeUpId } from '../../core/practice/made-up-troubles.ts';
import { toThrowNow } from '../../core/practice/throwing.ts';
import type { Thrown } from '../../core/practice/thrown.ts';
import { scaleKgFor } from '../../core/practice/wrong-weight.ts';
import type { Command } from '../../core/procedure/commands.ts';
import type { SessionRecord } from '../../core/procedure/record.ts';
import { openSession, ruleOn, type Session } from '../../core/procedure/session.ts';
import { momentAt, NURSE, ONE_EYE, OPENED_AT_MS, ring, type Step, T0_AT_MS } from '../session-steps.ts';

/** A practice session of that identity, before anything is done in it. */
export const openedAs = (sessionId: string): Session =>
  openSession({ sessionId, practice: true, at: momentAt(OPENED_AT_MS), by: NURSE });

/** A session that was lived through with troubles thrown in, second by second. */
export interface Lived {
  readonly record: SessionRecord;
  readonly thrown: readonly (Thrown & { readonly before: SessionRecord })[];
  readonly endMs: number;
}

/**
 * Lives through a course, looking every few seconds for what is to be thrown in. A command that is refused where it is
 * given is left out, as a person would leave it.
 */
export function live(sessionId: string, steps: readonly Step[], everyMs = 2_000, rate = 1): Lived {
  let session = openedAs(sessionId);
  const thrown: (Thrown & { before: SessionRecord })[] = [];
  const endMs = (steps.at(-1)?.atMs ?? OPENED_AT_MS) + 60_000;
  const waiting = [...steps].sort((one, other) => one.atMs - other.atMs);
  for (let atMs = OPENED_AT_MS; atMs <= endMs; atMs += everyMs) {
    while (waiting[0] !== undefined && waiting[0].atMs <= atMs) session = takenOr(session, waiting.shift());
    session = ring(session, atMs);
    const known: MadeUpId[] = thrown.map(({ trouble }) => trouble);
    const trouble = toThrowNow(session.context, known, atMs);
    if (trouble === null) continue;
    const scaleKg = trouble.id === 'wrong-weight' ? scaleKgFor(session.context) : null;
    thrown.push({ trouble: trouble.id, atMs, rate, scaleKg: scaleKg ?? undefined, before: session.context });
  }
  return { record: session.context, thrown, endMs };
}

function takenOr(before: Session, step: Step | undefined): Session {
  if (step === undefined) return before;
  const session = ring(before, step.atMs);
  const ruling = ruleOn(session, step.command, momentAt(step.atMs), step.by);
  return ruling.taken ? ruling.session : session;
}

export const at = (fromT0S: number, command: Command): Step => ({
  name: command.kind,
  atMs: T0_AT_MS + fromT0S * 1000,
  by: NURSE,
  command,
});

const WHATEVER: readonly Command[] = [
  { kind: 'hold', reason: 'pain' },
  { kind: 'hold', reason: 'extravasation' },
  { kind: 'resume', override: { reason: 'another vein is found' } },
  { kind: 'trouble', card: 'extravasation' },
  { kind: 'trouble', card: 'pain' },
  { kind: 'trouble', card: 'pump' },
  { kind: 'trouble', card: 'moved' },
  { kind: 'set-back', agoS: 40 },
  { kind: 'begin-flush', override: { reason: 'the physician ends the infusion' } },
  { kind: 'end-flush', flushMl: 5, override: { reason: 'the line is empty' } },
  { kind: 'beam-on', eye: 'right', override: { reason: 'the operator goes on' } },
  { kind: 'beam-off', endedByLaser: false },
  { kind: 'beam-set-back', edge: 'on', agoS: 5 },
  { kind: 'end-light', override: { reason: 'the eye cannot be steadied' } },
  { kind: 'stop-early', reason: 'the patient asks to stop' },
];

/** The course as it ought to go, and among it whatever people may do at any moment. */
export const anyCourse: fc.Arbitrary<readonly Step[]> = fc
  .array(fc.record({ fromT0S: fc.integer({ min: 1, max: 1_200 }), command: fc.constantFrom(...WHATEVER) }), {
    maxLength: 12,
  })
  .map((more) => [...ONE_EYE, ...more.map(({ fromT0S, command }) => at(fromT0S, command))]);
