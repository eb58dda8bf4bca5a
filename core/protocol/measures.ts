import { z } from 'zod';
import { DEVIATION_IDS, type FoundDeviation } from '../ledger/deviations.ts';
import type { SessionMeasures } from '../ledger/measures.ts';
import { eyeSchema, HOLD_REASONS } from '../procedure/commands.ts';
import { ROLES } from '../procedure/person.ts';
import { STATES } from '../procedure/states.ts';
import { TROUBLE_IDS } from '../procedure/trouble.ts';

const seq = z.number().int();
const ms = z.number();
const text = z.string();
const orNull = <T extends z.ZodType>(schema: T) => schema.nullable();

const t0 = z.strictObject({
  seq,
  wallMs: ms,
  offsetMin: z.number(),
  continuousMs: ms,
  boot: text,
  setBackMs: ms,
});

const infusion = z.strictObject({ plannedMs: ms, ranMs: ms, endFromT0Ms: orNull(ms), endSeq: orNull(seq) });

const hold = z.strictObject({
  seq,
  reason: z.enum([...HOLD_REASONS, ...TROUBLE_IDS]),
  fromT0Ms: ms,
  heldMs: orNull(ms),
});

const skippedFlush = z.strictObject({
  seq,
  how: z.enum(['not begun', 'cut short']),
  inLineMg: orNull(z.number()),
  inSyringeMg: z.number(),
});

const flush = z.strictObject({
  plannedMs: ms,
  beganFromT0Ms: orNull(ms),
  beganSeq: orNull(seq),
  ranMs: orNull(ms),
  endSeq: orNull(seq),
  flushMl: orNull(z.number()),
  notDeliveredMg: orNull(z.number()),
  skipped: orNull(skippedFlush),
});

const light = z.strictObject({
  dueFromT0Ms: ms,
  startFromT0Ms: orNull(ms),
  startSeq: orNull(seq),
  startOffsetMs: orNull(ms),
  overSeq: orNull(seq),
});

const secondEye = z.strictObject({
  limitFromT0Ms: ms,
  eye: orNull(eyeSchema),
  startSeq: orNull(seq),
  startOffsetMs: orNull(ms),
});

const beam = z.strictObject({ onSeq: seq, onFromT0Ms: ms, offSeq: orNull(seq), offFromT0Ms: orNull(ms) });

const exposure = z.strictObject({
  eye: eyeSchema,
  orderedS: z.number(),
  orderedJPerCm2: z.number(),
  deliveredS: z.number(),
  deliveredJPerCm2: z.number(),
  beams: z.array(beam),
});

const clockEvent = z.strictObject({
  seq,
  what: z.enum(['slept', 're-based', 'clock stepped', 'zone changed']),
  byMs: ms,
  fromT0Ms: orNull(ms),
});

const cue = z.strictObject({
  seq,
  cue: text,
  dueFromT0Ms: orNull(ms),
  outcome: z.enum(['sounded', 'late', 'silent', 'missing']),
  lateMs: ms,
});

const doubleCheck = z.strictObject({
  seq,
  by: text,
  firstBy: z.array(text),
  sameHands: z.boolean(),
  agrees: z.boolean(),
  afterDifference: z.boolean(),
});

export const personMeasureSchema = z.strictObject({ initials: text, role: z.enum(ROLES) });

/** A session's measures as they cross from one process or thread to another. */
export const sessionMeasuresSchema = z.strictObject({
  sessionId: text,
  practice: z.boolean(),
  openedWallMs: ms,
  offsetMin: z.number(),
  firstSeq: seq,
  lastSeq: seq,
  entries: z.number(),
  state: z.enum(STATES),
  patientCode: orNull(text),
  regimenId: orNull(text),
  regimenName: orNull(text),
  eyes: z.array(eyeSchema),
  lots: z.array(text),
  people: z.array(personMeasureSchema),
  t0: orNull(t0),
  reconstitution: orNull(z.strictObject({ seq, wallMs: ms, toInfusionEndMs: orNull(ms) })),
  infusion: orNull(infusion),
  holds: z.array(hold),
  flush: orNull(flush),
  light: orNull(light),
  secondEye: orNull(secondEye),
  exposures: z.array(exposure),
  stoppedEarly: orNull(z.strictObject({ seq, reason: text, fromT0Ms: orNull(ms) })),
  latePresses: z.array(z.strictObject({ seq, what: z.enum(['pump on', 'beam on', 'beam off']), agoS: z.number() })),
  overriddenGuards: z.array(z.strictObject({ seq, step: text, missing: z.array(text), reason: text })),
  clockEvents: z.array(clockEvent),
  cues: z.array(cue),
  doubleChecks: z.array(doubleCheck),
  statedDeviations: z.array(z.strictObject({ seq, words: text, reason: text, by: text })),
  readTo: seq,
  trouble: orNull(z.strictObject({ seq, says: text })),
}) satisfies z.ZodType<SessionMeasures>;

export const foundDeviationSchema = z.strictObject({
  ruleId: z.enum(DEVIATION_IDS),
  seq,
  value: orNull(z.number()),
  unit: orNull(z.enum(['s', 'min', 'mg', '%'])),
  limit: orNull(z.number()),
  words: text,
}) satisfies z.ZodType<FoundDeviation>;
