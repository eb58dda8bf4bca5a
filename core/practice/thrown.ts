import { z } from 'zod';
import type { Entry } from '../ledger/entry.ts';
import type { SessionRecord } from '../procedure/record.ts';
import { MADE_UP_IDS, type MadeUpId, madeUpById } from './made-up-troubles.ts';

/** The kind of the station's own entry that says what was thrown into which session. */
export const PRACTICE_TROUBLE = 'practice-trouble';

/** `rate`: how many times faster than real time the clock ran. `scaleKg`: what the scale showed, where one was read. */
export const thrownSchema = z.strictObject({
  sessionId: z.string(),
  trouble: z.enum(MADE_UP_IDS),
  rate: z.number().positive(),
  scaleKg: z.number().positive().optional(),
});

/** A trouble that was thrown into a session, on the clock that its record counts with. */
export interface Thrown {
  readonly trouble: MadeUpId;
  readonly atMs: number;
  readonly rate: number;
  readonly scaleKg?: number | undefined;
}

/**
 * What was thrown into a session, oldest first, from the entries about the station. An entry of an earlier boot is
 * placed by wall time, as the session's own instants are: from the pump's start, before that from the session's opening. One that cannot be read is passed over: it decides nothing.
 */
export function thrownInto(record: SessionRecord, entries: Iterable<Entry>): Thrown[] {
  const thrown: Thrown[] = [];
  for (const { kind, payload, boot, continuousMs, wallMs } of entries) {
    const read = kind === PRACTICE_TROUBLE ? thrownSchema.safeParse(payload) : null;
    if (read?.success !== true || read.data.sessionId !== record.sessionId) continue;
    const known = knownInstant(record);
    const atMs = boot === record.boot ? continuousMs : known.atMs + wallMs - known.wallMs;
    const { trouble, rate, scaleKg } = read.data;
    thrown.push({ trouble, atMs, rate, scaleKg });
  }
  return thrown;
}

/** An instant of the session on both clocks. */
function knownInstant({ course, reached }: SessionRecord): { atMs: number; wallMs: number } {
  if (course !== null) return { atMs: course.t0AtMs, wallMs: course.t0WallMs };
  const [opened] = reached;
  if (opened === undefined) throw new Error('a session record has always reached a state');
  return opened;
}

/** As somebody in the room says it, with the figure where there is one. */
export const toldWords = ({ trouble, scaleKg }: Pick<Thrown, 'trouble' | 'scaleKg'>): string =>
  scaleKg === undefined
    ? madeUpById(trouble).words
    : `the second person weighs the patient: the scale shows ${scaleKg.toFixed(1)} kg`;

/** What such an entry says, for the ledger. */
export function thrownWords(payload: Entry['payload']): string {
  const read = thrownSchema.safeParse(payload);
  return read.success
    ? `practice, made up: ${toldWords(read.data)}`
    : 'practice: a made-up trouble that this version does not know';
}
