import { initialTransition, type SnapshotFrom, transition } from 'xstate';
import type { Moment } from '../time/moment.ts';
import { type Command, commandSchema } from './commands.ts';
import type { Missing } from './conditions.ts';
import {
  type CueSounded,
  cueSoundedSchema,
  type DueEvent,
  dueEventSchema,
  type Rebase,
  rebaseSchema,
  type Slept,
  sleptSchema,
} from './due.ts';
import { eventOf, type Found, type SessionEvent } from './events.ts';
import { BUILT_IN, findingsFor, type House } from './findings.ts';
import { procedureMachine, type SessionInput } from './machine.ts';
import { missingFor, permits } from './openings.ts';
import type { Author } from './person.ts';

/** A session as the machine holds it: a state and a record. */
export type Session = SnapshotFrom<typeof procedureMachine>;

export function openSession(input: SessionInput): Session {
  return initialTransition(procedureMachine, input)[0];
}

/** The session once an event is in it; null where the machine does not take it. */
export function sessionAfter(session: Session, event: SessionEvent): Session | null {
  return session.can(event) ? transition(procedureMachine, session, event)[0] : null;
}

/** A command that may go into the ledger, or what it waits for. */
export type Ruling =
  | { readonly taken: true; readonly event: SessionEvent; readonly session: Session }
  | { readonly taken: false; readonly missing: readonly Missing[] };

/** Rules on a command: what it would become, or each thing that is missing. Changes nothing. */
export function ruleOn(session: Session, command: Command, at: Moment, by: Author, house: House = BUILT_IN): Ruling {
  const record = session.context;
  const missing = missingFor(command.kind, record, { at, by, command });
  const overridden = 'override' in command && command.override !== undefined;
  if (!permits(missing, overridden)) return { taken: false, missing };
  const refuse = (text: string): Ruling => ({ taken: false, missing: [{ text, untilAtMs: null, firm: true }] });
  let found: Found;
  try {
    found = findingsFor(command, record, missing, house);
  } catch (error) {
    if (error instanceof RangeError) return refuse(error.message);
    throw error;
  }
  const event = eventOf(command, found, at, by);
  const after = sessionAfter(session, event);
  return after === null ? refuse('not possible as things stand') : { taken: true, event, session: after };
}

/** Reads the content of an entry back, whichever kind it is. @throws ZodError where it is not one of ours. */
export function contentOf(kind: string, fields: object): Command | DueEvent | Rebase | Slept | CueSounded {
  const whole = { ...fields, kind };
  if (kind === 'rebase') return rebaseSchema.parse(whole);
  if (kind === 'slept') return sleptSchema.parse(whole);
  if (kind === 'cue-sounded') return cueSoundedSchema.parse(whole);
  if (kind.endsWith('-due')) return dueEventSchema.parse(whole);
  return commandSchema.parse(whole);
}
