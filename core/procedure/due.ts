import { z } from 'zod';
import { eyeSchema } from './commands.ts';
import { CUE_IDS } from './cue-table.ts';

/**
 * What the clock brings about: an instant came due. Each is entered once, by the station. `dueAtMs` is the continuous
 * instant it was due at, which may lie a little before the entry's own.
 */
export const dueEventSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('infusion-due'), dueAtMs: z.number() }),
  z.strictObject({ kind: z.literal('flush-due'), dueAtMs: z.number() }),
  z.strictObject({ kind: z.literal('light-due'), dueAtMs: z.number() }),
  z.strictObject({ kind: z.literal('exposure-due'), dueAtMs: z.number(), eye: eyeSchema }),
  z.strictObject({ kind: z.literal('second-eye-due'), dueAtMs: z.number() }),
  z.strictObject({ kind: z.literal('drug-expiry-due'), dueAtMs: z.number() }),
]);

export type DueEvent = z.infer<typeof dueEventSchema>;
export type DueKind = DueEvent['kind'];

/**
 * The machine was started anew: instants that belonged to the boot before are moved by `shiftMs` onto the continuous
 * clock of `toBoot`, as wall time says they lie. An estimate: wall time may have stepped meanwhile.
 */
export const rebaseSchema = z.strictObject({
  kind: z.literal('rebase'),
  fromBoot: z.string().min(1),
  toBoot: z.string().min(1),
  shiftMs: z.number(),
});

/**
 * The machine slept while drug or light was under way. The counts ran on; what the pump did is for a person to look at.
 * Both estimates are kept: by the clock that counts sleep, and by wall time.
 */
export const sleptSchema = z.strictObject({
  kind: z.literal('slept'),
  sleptMs: z.number().nonnegative(),
  byWallMs: z.number(),
  /** All sleep of this boot up to then; absent where it was not counted. A later start compares with it. */
  asleepMs: z.number().nonnegative().optional(),
});

export type Slept = z.infer<typeof sleptSchema>;

/** What can become of a cue. None of them says that somebody heard it. */
export const CUE_OUTCOMES = ['sounded', 'late', 'silent'] as const;

/**
 * What became of a cue in the window that sounds them: asked of the sound card at its instant, `lateMs` after it, or
 * not at all. Once for each instant of a cue.
 */
export const cueSoundedSchema = z.strictObject({
  kind: z.literal('cue-sounded'),
  cue: z.enum(CUE_IDS),
  dueAtMs: z.number(),
  outcome: z.enum(CUE_OUTCOMES),
  lateMs: z.number().nonnegative(),
});

export type CueSounded = z.infer<typeof cueSoundedSchema>;

export type Rebase = z.infer<typeof rebaseSchema>;
