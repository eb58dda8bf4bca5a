import { z } from 'zod';

/** No message of the protocol comes near this; a longer one is not read. */
export const MOST_MESSAGE_BYTES = 64 * 1024;

export type ErrorMessage = { type: 'error'; requestId: string | null; says: string };

export const tooLong = (): ErrorMessage => ({
  type: 'error',
  requestId: null,
  says: 'not read, nothing has changed: the message is longer than 64 KiB',
});

export const notReadable = (): ErrorMessage => ({
  type: 'error',
  requestId: null,
  says: 'not understood, nothing has changed: the message could not be read',
});

/** Answers a command that came while the station was away. A mere greeting needs none: a snapshot follows by itself. */
export function stationAway(message: unknown): ErrorMessage | null {
  const asked = z.looseObject({ requestId: z.string().max(64) }).safeParse(message);
  if (!asked.success) return null;
  const says = 'not carried out, nothing has changed: the station is starting again; press again in a moment';
  return { type: 'error', requestId: asked.data.requestId, says };
}

/** Tells every screen why the station cannot work. */
export const cannotWork = (says: string): ErrorMessage => ({ type: 'error', requestId: null, says });
