import type { Command } from '../../core/procedure/commands.ts';
import type { Person } from '../../core/procedure/person.ts';
import type { Message, Request, SheetName } from '../../core/protocol/messages.ts';
import { hearMessages, linkUp, send } from './connection.ts';

type Answerable = Extract<Request, { requestId: string }>;
type AnswerTo = {
  open: 'entered' | 'refused' | 'error';
  command: 'entered' | 'refused' | 'error';
  print: 'printed' | 'error';
  sessions: 'sessions' | 'error';
  entries: 'entries' | 'error';
};
type Answer<Kind extends keyof AnswerTo> = Extract<Message, { type: AnswerTo[Kind] }>;

/** What a command came to. */
export type Given = Answer<'command'>;

/** Gives a command for a session as it was seen: `seq` is that of its last entry on the screen. */
export function give(session: { sessionId: string; seq: number }, command: Command, by: Person): Promise<Given> {
  const { sessionId, seq } = session;
  return ask<'command'>({ type: 'command', requestId: crypto.randomUUID(), sessionId, seq, by, command });
}

export function openSession(by: Person): Promise<Given> {
  return ask<'open'>({ type: 'open', requestId: crypto.randomUUID(), by, command: { kind: 'open-session' } });
}

export const bringForward = (sessionId: string): void => send({ type: 'front', sessionId });

/** A sheet of a session, as a PDF file. */
export function askSheet(sessionId: string, sheet: SheetName): Promise<Answer<'print'>> {
  return ask<'print'>({ type: 'print', requestId: crypto.randomUUID(), sessionId, sheet });
}

/** Sessions, newest first; `before` is the first sequence of the last one that is known. */
export function askSessions(before: number | null, limit: number): Promise<Answer<'sessions'>> {
  return ask<'sessions'>({ type: 'sessions', requestId: crypto.randomUUID(), before, limit });
}

/** A session's entries after a sequence. */
export function askEntries(sessionId: string, after: number, limit: number): Promise<Answer<'entries'>> {
  return ask<'entries'>({ type: 'entries', requestId: crypto.randomUUID(), sessionId, after, limit });
}

/** Unanswered this long, a request is sent again, under the same identity: it is carried out once. */
const AGAIN_AFTER_MS = 3_000;
/** Later than this a press is not sent again: it would be entered at a time when nobody pressed. */
const GIVEN_UP_AFTER_MS = 10_000;
const GIVEN_UP = 'the station has not answered: look whether it was entered, and press again if not';

interface Waiting {
  readonly request: Answerable;
  readonly askedAtMs: number;
  sentAtMs: number;
  answer(message: Message): void;
}

const waiting = new Map<string, Waiting>();

function ask<Kind extends keyof AnswerTo>(request: Answerable & { type: Kind }): Promise<Answer<Kind>> {
  return new Promise((resolve) => {
    const askedAtMs = performance.now();
    // The station answers a request only with the messages that AnswerTo names for it.
    const answer = (message: Message): void => resolve(message as Answer<Kind>);
    waiting.set(request.requestId, { request, askedAtMs, sentAtMs: askedAtMs, answer });
    send(request);
  });
}

function sendAgain(one: Waiting): void {
  const nowMs = performance.now();
  const { requestId } = one.request;
  if (nowMs - one.askedAtMs > GIVEN_UP_AFTER_MS) settle({ type: 'error', requestId, says: GIVEN_UP }, requestId);
  else {
    one.sentAtMs = nowMs;
    send(one.request);
  }
}

function settle(message: Message, requestId: string): void {
  const one = waiting.get(requestId);
  waiting.delete(requestId);
  one?.answer(message);
}

/** Hears the answers, and sends again what stays unanswered. Called once. */
export function followAnswers(): void {
  hearMessages((message) => {
    if ('requestId' in message && message.requestId !== null) settle(message, message.requestId);
  });
  linkUp.subscribe(() => {
    if (linkUp.get()) for (const one of waiting.values()) sendAgain(one);
  });
  setInterval(() => {
    const nowMs = performance.now();
    for (const one of waiting.values()) if (nowMs - one.sentAtMs > AGAIN_AFTER_MS) sendAgain(one);
  }, 1_000);
}
