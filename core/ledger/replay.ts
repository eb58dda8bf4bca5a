import { eventOf, type Found } from '../procedure/events.ts';
import { contentOf, openSession, type Session, sessionAfter } from '../procedure/session.ts';
import { settingsSchema } from '../settings/settings.ts';
import type { Entry } from './entry.ts';

/** An entry that the procedure does not take at its place: the ledger does not say what happened there. */
export class ReplayError extends Error {
  readonly seq: number;

  constructor(seq: number, says: string) {
    super(`entry ${seq}: ${says}`);
    this.seq = seq;
  }
}

/** What an `open-session` entry says beside who and when. */
export interface Opening {
  readonly practice: boolean;
}

/**
 * Folds a session's entries, in order: the state of a session is this and nothing else.
 *
 * @throws ReplayError where an entry is not one the procedure takes at that place.
 */
export function replay(entries: Iterable<Entry>): Session {
  let session: Session | null = null;
  for (const entry of entries) session = session === null ? opened(entry) : after(session, entry);
  if (session === null) throw new ReplayError(0, 'a session without entries');
  return session;
}

export function opened(entry: Entry): Session {
  if (entry.kind !== 'open-session' || entry.sessionId === null) {
    throw new ReplayError(entry.seq, 'a session begins with the entry that opens it');
  }
  return openSession({
    sessionId: entry.sessionId,
    practice: entry.payload.practice === true,
    settings: settingsSchema.parse(entry.payload.settings ?? {}),
    at: momentOf(entry),
    by: entry.author,
  });
}

export function after(session: Session, entry: Entry): Session {
  const { found = {}, ...fields } = entry.payload;
  const content = readable(entry, fields);
  const next = sessionAfter(session, eventOf(content, found as Found, momentOf(entry), entry.author));
  if (next === null) throw new ReplayError(entry.seq, `"${entry.kind}" is not possible there`);
  return next;
}

function readable(entry: Entry, fields: object): ReturnType<typeof contentOf> {
  try {
    return contentOf(entry.kind, fields);
  } catch (error) {
    throw new ReplayError(entry.seq, `"${entry.kind}" cannot be read: ${error instanceof Error ? error.message : ''}`);
  }
}

const momentOf = ({ continuousMs, boot, wallMs, offsetMin }: Entry) => ({ continuousMs, boot, wallMs, offsetMin });
