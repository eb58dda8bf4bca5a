import { z } from 'zod';
import { STATES, UNDER_WAY } from '../../core/procedure/states.ts';

/** What a carrier itself reads of a snapshot; the screens read, and parse, all of it. */
const snapshotSchema = z.looseObject({
  type: z.literal('snapshot'),
  nowMs: z.number(),
  wallMs: z.number(),
  rate: z.number().positive(),
  sessions: z.array(
    z.looseObject({
      sessionId: z.string(),
      state: z.enum(STATES),
      stateWords: z.string(),
      patient: z.looseObject({ patientCode: z.string() }).nullable(),
    }),
  ),
});
type Known = z.infer<typeof snapshotSchema>;
export type KnownSession = Known['sessions'][number];

export interface LastSnapshot {
  /** Keeps a message for all screens, if it is a snapshot. */
  keep(message: unknown): void;
  /** The last snapshot with its clocks moved on to the present, or null before the first. */
  asOfNow(): unknown;
  /** Sessions that have not ended. */
  openSessions(): readonly KnownSession[];
  /** Sessions in which drug or light is under way. */
  underWay(): readonly KnownSession[];
}

/**
 * Keeps the last snapshot, so that a screen that opens while the station is away still counts, and so that the carrier
 * knows whether it may let the machine sleep or the window close.
 */
export function lastSnapshot(clockMs: () => number = () => performance.now()): LastSnapshot {
  let kept: { snapshot: Known; heardAtMs: number } | null = null;

  const sessions = (): readonly KnownSession[] => kept?.snapshot.sessions ?? [];

  return {
    keep: (message) => {
      const snapshot = snapshotSchema.safeParse(message);
      if (snapshot.success) kept = { snapshot: snapshot.data, heardAtMs: clockMs() };
    },
    asOfNow: () => {
      if (kept === null) return null;
      const { snapshot, heardAtMs } = kept;
      const elapsedMs = (clockMs() - heardAtMs) * snapshot.rate;
      return { ...snapshot, nowMs: snapshot.nowMs + elapsedMs, wallMs: Math.round(snapshot.wallMs + elapsedMs) };
    },
    openSessions: () => sessions().filter(({ state }) => state !== 'discharged'),
    underWay: () => sessions().filter(({ state }) => UNDER_WAY.includes(state)),
  };
}
