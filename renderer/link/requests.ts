import type { ClinicFilter, FindCursor, FindFilter } from '../../core/ledger/find-filter.ts';
import type { Command } from '../../core/procedure/commands.ts';
import type { Person } from '../../core/procedure/person.ts';
import type { Wanted } from '../../core/protocol/exporting.ts';
import type { Message, Request } from '../../core/protocol/messages.ts';
import type { SettingsChangeAsked, SettingsFile } from '../../core/protocol/settings.ts';
import { hearMessages, linkUp, send } from './connection.ts';

type Answerable = Extract<Request, { requestId: string }>;
type PeopleAnswers = 'hands' | 'people-done' | 'refused' | 'error';
type AnswerTo = {
  open: 'entered' | 'refused' | 'error';
  command: 'entered' | 'refused' | 'error';
  print: 'printed' | 'error';
  'print-quick-card': 'printed' | 'error';
  'print-anchor': 'printed' | 'error';
  find: 'found' | 'error';
  reading: 'reading' | 'error';
  clinic: 'clinic' | 'error';
  entries: 'entries' | 'error';
  export: 'exported' | 'error';
  'export-part': 'exported' | 'error';
  verify: 'verifying' | 'error';
  places: 'places' | 'error';
  'change-settings': 'settings-changed' | 'error';
  'read-settings': 'settings-read' | 'error';
  'settings-history': 'settings-history' | 'error';
  'sign-in': PeopleAnswers;
  'sign-out': PeopleAnswers;
  'first-administrator': PeopleAnswers;
  'change-roster': PeopleAnswers;
  'give-pin': PeopleAnswers;
  'own-pin': PeopleAnswers;
  recover: PeopleAnswers;
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

type SheetAsked = Omit<Extract<Request, { type: 'print' }>, 'type' | 'requestId' | 'sessionId'>;

/** A sheet of a session, as a PDF file. */
export function askSheet(sessionId: string, asked: SheetAsked): Promise<Answer<'print'>> {
  return ask<'print'>({ type: 'print', requestId: crypto.randomUUID(), sessionId, ...asked });
}

/** The card for the wall, as a PDF file. */
export function askQuickCard(): Promise<Answer<'print-quick-card'>> {
  return ask<'print-quick-card'>({ type: 'print-quick-card', requestId: crypto.randomUUID() });
}

/** Sessions that answer to a filter, newest first; `cursor` is the place of the last one that is known. */
export function askFind(filter: FindFilter, cursor: FindCursor | null, limit: number): Promise<Answer<'find'>> {
  return ask<'find'>({ type: 'find', requestId: crypto.randomUUID(), filter, cursor, limit });
}

/** A session's measures, and where it departs from its plan. */
export function askReading(sessionId: string): Promise<Answer<'reading'>> {
  return ask<'reading'>({ type: 'reading', requestId: crypto.randomUUID(), sessionId });
}

/** Figures over a clinic's sessions. */
export function askClinic(filter: ClinicFilter): Promise<Answer<'clinic'>> {
  return ask<'clinic'>({ type: 'clinic', requestId: crypto.randomUUID(), filter });
}

/** The ledger's anchor, as a PDF file. */
export function askAnchorSlip(): Promise<Answer<'print-anchor'>> {
  return ask<'print-anchor'>({ type: 'print-anchor', requestId: crypto.randomUUID() });
}

/** A session's entries after a sequence. */
export function askEntries(sessionId: string, after: number, limit: number): Promise<Answer<'entries'>> {
  return ask<'entries'>({ type: 'entries', requestId: crypto.randomUUID(), sessionId, after, limit });
}

/** Begins a file, and gives its first part. The identity of the request is the file's from then on. */
export function askExport(exportId: string, wanted: Wanted): Promise<Answer<'export'>> {
  return ask<'export'>({ type: 'export', requestId: exportId, wanted });
}

export function askExportPart(exportId: string, part: number): Promise<Answer<'export-part'>> {
  return ask<'export-part'>({ type: 'export-part', requestId: crypto.randomUUID(), exportId, part });
}

/** Ends the making of a file, or lets go of one that is whole. */
export const letGoOfExport = (exportId: string): void => send({ type: 'cancel-export', exportId });

/** How far a reading of the whole ledger is; begins it, where `run` is not known. */
export function askVerify(run: string, anchor: string | null): Promise<Answer<'verify'>> {
  return ask<'verify'>({ type: 'verify', requestId: crypto.randomUUID(), run, anchor });
}

/** Where things are kept on this machine. */
export function askPlaces(): Promise<Answer<'places'>> {
  return ask<'places'>({ type: 'places', requestId: crypto.randomUUID() });
}

/** Changes settings of the site, by whoever saw those of the entry `seenSeq`. */
export function askSettingsChange(asked: SettingsChangeAsked): Promise<Answer<'change-settings'>> {
  return ask<'change-settings'>({ type: 'change-settings', requestId: crypto.randomUUID(), ...asked });
}

/** What a file of settings would change. */
export function askReadSettings(file: SettingsFile): Promise<Answer<'read-settings'>> {
  return ask<'read-settings'>({ type: 'read-settings', requestId: crypto.randomUUID(), ...file });
}

/** Who changed which setting last. */
export function askSettingsHistory(): Promise<Answer<'settings-history'>> {
  return ask<'settings-history'>({ type: 'settings-history', requestId: crypto.randomUUID() });
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

/** Asks, and waits for the answer: sent again after a silence, given up after a longer one. */
export function ask<Kind extends keyof AnswerTo>(request: Answerable & { type: Kind }): Promise<Answer<Kind>> {
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
