import { z } from 'zod';
import type { Entry } from '../ledger/entry.ts';
import type { SessionRecord } from '../procedure/record.ts';
import { MADE_UP_IDS, type MadeUpId, madeUpById } from './made-up-troubles.ts';

/** The kind of the station's own entry that says what was thrown into which session. */
export const PRACTICE_TROUBLE = 'practice-trouble';

/** `rate`: how many times faster than real time the clock ran. */
export const thrownSchema = z.strictObject({
  sessionId: z.string(),
  trouble: z.enum(MADE_UP_IDS),
  rate: z.number().positive(),
});

/** A trouble that was thrown into a session, on the clock that its record counts with. */
export interface Thrown {
  readonly trouble: MadeUpId;
  readonly atMs: number;
  readonly rate: number;
}

/**
 * What was thrown into a session, oldest first, from the entries about the station. An entry of an earlier boot is
 * placed by wall time, as the session's own instants are. One that cannot be read is passed over: it decides nothing.
 */
export function thrownInto(record: SessionRecord, entries: Iterable<Entry>): Thrown[] {
  const thrown: Thrown[] = [];
  for (const { kind, payload, boot, continuousMs, wallMs } of entries) {
    const read = kind === PRACTICE_TROUBLE ? thrownSchema.safeParse(payload) : null;
    if (read?.success !== true || read.data.sessionId !== record.sessionId || record.course === null) continue;
    const { t0AtMs, t0WallMs } = record.course;
    const atMs = boot === record.boot ? continuousMs : t0AtMs + wallMs - t0WallMs;
    thrown.push({ trouble: read.data.trouble, atMs, rate: read.data.rate });
  }
  return thrown;
}

/** What such an entry says, for the ledger. */
export function thrownWords(payload: Entry['payload']): string {
  const read = thrownSchema.safeParse(payload);
  return read.success
    ? `practice, made up: ${madeUpById(read.data.trouble).words}`
    : 'practice: a made-up trouble that this version does not know';
}
