import { z } from 'zod';
import { planSchema } from '../dosing/plan-schema.ts';
import { CHECK_IDS } from '../procedure/checks.ts';
import { COMMAND_KINDS, eyeSchema } from '../procedure/commands.ts';
import { CUE_IDS } from '../procedure/cue-table.ts';
import { authorSchema } from '../procedure/person.ts';
import { STATES } from '../procedure/states.ts';
import { TROUBLE_IDS } from '../procedure/trouble.ts';
import { settingsSchema } from '../settings/settings.ts';

/** When something was entered, and by whom. `wallMs` with `offsetMin` is for showing; `atMs` is continuous. */
const doneSchema = z.strictObject({
  by: authorSchema,
  atMs: z.number(),
  wallMs: z.number(),
  offsetMin: z.number(),
});

/** One thing a command waits for. `untilAtMs`: the continuous instant it comes about by itself, or null. */
const missingSchema = z.strictObject({ text: z.string(), untilAtMs: z.number().nullable() });

/** Whether a command may be given now and, if not, each missing condition as a sentence. */
const openingSchema = z.strictObject({
  open: z.boolean(),
  missing: z.array(missingSchema),
  /** Closed, but may go on with a reason, as a deviation. */
  withReason: z.boolean(),
});

/** Something to do in the present state, in order. `done` is null while it is missing. */
const taskSchema = z.strictObject({
  id: z.string(),
  command: z.enum(COMMAND_KINDS as [string, ...string[]]),
  item: z.enum(CHECK_IDS).nullable(),
  eye: eyeSchema.nullable(),
  words: z.string(),
  source: z.string().nullable(),
  done: doneSchema.nullable(),
  /** What was entered, in short. */
  detail: z.string(),
  /** Entered, but it does not let the session go on: why. */
  trouble: z.string().nullable(),
});

/**
 * A running timer is a due instant, never a counter. `running`: draw `dueAtMs - now`. `held`: draw `leftMs`.
 */
const timerSchema = z.strictObject({
  name: z.enum(['infusion', 'light window', 'flush', 'exposure', 'second eye', 'drug in use']),
  eye: eyeSchema.nullable(),
  phase: z.enum(['running', 'held', 'done']),
  plannedMs: z.number(),
  dueAtMs: z.number().nullable(),
  leftMs: z.number().nullable(),
});

const exposureSchema = z.strictObject({
  eye: eyeSchema,
  plannedMs: z.number(),
  irradianceMwPerCm2: z.number(),
  orderedJPerCm2: z.number(),
  /** Light given before the present stretch. */
  deliveredBeforeMs: z.number(),
  beamOnSinceAtMs: z.number().nullable(),
  /** Every stretch of light; `offAtMs` is null while it lasts. */
  beams: z.array(z.strictObject({ onAtMs: z.number(), offAtMs: z.number().nullable() })),
  whole: z.boolean(),
});

/** The one number that matters now. */
const countSchema = z.strictObject({
  /** `left`: to `dueAtMs`, then overdue. `held`: `leftMs` stands still. `light`: exposure of `eye`, seconds and J/cm2. */
  kind: z.enum(['left', 'held', 'light']),
  eye: eyeSchema.nullable(),
  dueAtMs: z.number().nullable(),
  leftMs: z.number().nullable(),
  /** What it counts to, for example "to the light window". */
  words: z.string(),
  /** What to say once it is past zero, for example "light window open". */
  pastWords: z.string(),
});

const boardSchema = z.strictObject({
  title: z.string(),
  main: countSchema.nullable(),
  second: countSchema.nullable(),
  next: z.string(),
});

/** What exists from the pump's start on. */
const courseSchema = z.strictObject({
  t0AtMs: z.number(),
  t0PressedAtMs: z.number(),
  t0WallMs: z.number(),
  t0OffsetMin: z.number(),
  infusionDueAtMs: z.number().nullable(),
  infusionPlannedMs: z.number(),
  infusionRanBeforeMs: z.number(),
  infusionRunningSinceAtMs: z.number().nullable(),
  pumpOffAtMs: z.number().nullable(),
  held: z.boolean(),
  flushBeganAtMs: z.number().nullable(),
  flushEndedAtMs: z.number().nullable(),
  lightDueAtMs: z.number(),
  windowOpen: z.boolean(),
  secondEyeDueAtMs: z.number().nullable(),
  exposures: z.array(exposureSchema),
  holds: z.array(z.strictObject({ heldAtMs: z.number(), reason: z.string(), resumedAtMs: z.number().nullable() })),
});

/** Where the dose is at the snapshot's instant, mg, and where it will be when the pump ends. Computed: plug flow. */
const dosesSchema = z.strictObject({
  orderedMg: z.number(),
  inPatientMg: z.number(),
  inLineMg: z.number(),
  inSyringeMg: z.number(),
  pumpEndS: z.number(),
  atPumpEndMg: z.number(),
  inLineAtPumpEndMg: z.number(),
  notDeliveredMg: z.number().nullable(),
});

const cardSchema = z.strictObject({
  id: z.enum(TROUBLE_IDS),
  words: z.string(),
  steps: z.array(z.string()),
  afterwards: z.string(),
  source: z.string(),
});

/**
 * The one way on from here: the command that Enter gives, in words, and whether Enter may give it now. Its own opening
 * may be narrower than the command's: beam off is always possible, but Enter waits for the exposure to end.
 */
const wayOnSchema = z.strictObject({
  command: z.enum(COMMAND_KINDS as [string, ...string[]]),
  eye: eyeSchema.nullable(),
  words: z.string(),
  ...openingSchema.shape,
});

/** A cue that still has something to tell, with all its repeats. `cuesOf` makes single instants of it. */
const cueSchema = z.strictObject({
  cue: z.enum(CUE_IDS),
  words: z.string(),
  /** When it sounds first; its repeats follow as its table row says. */
  firstAtMs: z.number(),
  /** Up to this instant it is known what became of this cue; null where nothing is known. */
  soundedUntilAtMs: z.number().nullable(),
});

/** Everything a screen shows of one session. Screens hold no rules: they draw this. */
export const sessionViewSchema = z.strictObject({
  sessionId: z.string(),
  /** Sequence of the session's last entry. */
  seq: z.number(),
  practice: z.boolean(),
  rebased: z.boolean(),
  state: z.enum(STATES),
  stateWords: z.string(),
  /** What to mind in this state. */
  guidance: z.string(),
  patient: z.strictObject({ patientCode: z.string(), birthDate: z.string() }).nullable(),
  regimen: z
    .strictObject({ id: z.string(), name: z.string(), onLabel: z.boolean(), lightStartMin: z.number() })
    .nullable(),
  orderedBy: z.string().nullable(),
  offLabelReason: z.string().nullable(),
  eyes: z.array(eyeSchema),
  /** Null also while what the first person entered is withheld from the second. */
  plan: planSchema.nullable(),
  /** Where the two computations are apart, side by side. */
  differences: z.array(z.strictObject({ what: z.string(), first: z.string(), second: z.string() })),
  doses: dosesSchema.nullable(),
  settings: settingsSchema,
  /** What can be done about trouble in this state. */
  troubleCards: z.array(cardSchema),
  troubles: z.array(z.strictObject({ ...doneSchema.shape, card: cardSchema, told: z.string().nullable() })),
  line: z.strictObject({ lineMl: z.number(), primedWith: z.enum(['drug', 'diluent']) }).nullable(),
  reached: z.array(z.strictObject({ state: z.enum(STATES), ...doneSchema.shape })),
  tasks: z.array(taskSchema),
  wayOn: wayOnSchema.nullable(),
  commands: z.record(z.string(), openingSchema),
  timers: z.array(timerSchema),
  course: courseSchema.nullable(),
  board: boardSchema,
  cues: z.array(cueSchema),
  /** Cues that are being repeated now: `cue-heard` hushes one of them. The one that began last comes first. */
  hushable: z.array(z.strictObject({ cue: z.enum(CUE_IDS), words: z.string() })),
  drugUseByWallMs: z.number().nullable(),
  /** Keep from bright light until this wall instant, by the longest sourced span; null before drug is given. */
  lightCareUntilWallMs: z.number().nullable(),
  cautions: z.array(z.string()),
  deviations: z.array(z.strictObject({ words: z.string(), reason: z.string(), ...doneSchema.shape })),
  notes: z.number(),
  stopped: z.string().nullable(),
});

export type SessionView = z.infer<typeof sessionViewSchema>;
export type TaskView = z.infer<typeof taskSchema>;
export type TimerView = z.infer<typeof timerSchema>;
export type CountView = z.infer<typeof countSchema>;
export type ExposureView = z.infer<typeof exposureSchema>;
export type OpeningView = z.infer<typeof openingSchema>;
