import { z } from 'zod';
import { BODY_QUESTION_IDS } from '../dosing/body-entry.ts';
import { LIGHT_LIMITS } from '../light/spot.ts';
import { CHECK_IDS } from './checks.ts';
import { CUE_IDS } from './cue-table.ts';
import { screeningAnswersSchema } from './screening.ts';
import { TROUBLE_IDS } from './trouble.ts';

/**
 * What a person may tell the station. Every command is for one session; one that is carried out becomes one entry of
 * the same kind. Units are in the names; spans that a person states ("ago") are in seconds before the key press.
 */

const sentence = z.string().trim().min(3, 'say it in at least three letters').max(500, 'keep it under 500 letters');
const personName = z.string().trim().min(2, 'name the person').max(80);
export const eyeSchema = z.enum(['right', 'left']);
export type Eye = z.infer<typeof eyeSchema>;

const calendarDay = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/, 'write the date as year-month-day, for example 1951-03-02')
  .refine((text) => {
    const date = new Date(`${text}T00:00:00Z`);
    return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
  }, 'that day is not in the calendar');

const heightCm = z.number().min(50, 'height is 50 to 250 cm').max(250, 'height is 50 to 250 cm');
const weightKg = z.number().min(10, 'weight is 10 to 350 kg').max(350, 'weight is 10 to 350 kg');
const gldUm = z
  .number()
  .min(100, 'greatest linear dimension is 100 to 12000 um')
  .max(12_000, 'greatest linear dimension is 100 to 12000 um');

const lensFactor = z.number().min(0.5, 'lens factor is 0.5 to 3').max(3, 'lens factor is 0.5 to 3');

/** Distance from the nasal edge of the lesion to the temporal edge of the disc, where it matters. */
const discDistanceUm = z
  .number()
  .min(0, 'distance to the disc is 0 to 20000 um')
  .max(20_000, 'distance to the disc is 0 to 20000 um')
  .optional();

const { imageMm, cameraMagnification } = LIGHT_LIMITS;

/** A lesion by its greatest linear dimension: on the retina, or on an image with the camera's magnification. */
const lesion = z.union(
  [
    z.strictObject({ eye: eyeSchema, gldUm, discDistanceUm }),
    z.strictObject({
      eye: eyeSchema,
      imageMm: z.number().min(imageMm.min).max(imageMm.max),
      cameraMagnification: z.number().min(cameraMagnification.min).max(cameraMagnification.max),
      discDistanceUm,
    }),
  ],
  {
    error: (issue) => (issue.code === 'invalid_union' ? firstFault(issue.errors) : undefined),
  },
);

/** What is wrong by the first way of saying it, with the field in front. */
function firstFault(ways: readonly (readonly { path: PropertyKey[]; message: string }[])[]): string | undefined {
  const fault = ways[0]?.[0];
  return fault && [fault.path.map(String).join('.'), fault.message].filter((part) => part !== '').join(': ');
}

/** The eyes to be treated, in the order of treatment, each with its lesion. */
const lesions = z
  .array(lesion)
  .min(1, 'name at least one eye')
  .max(2)
  .refine((list) => new Set(list.map((one) => one.eye)).size === list.length, 'the same eye is named twice');

/** Questions about height and weight that were asked, and answered: as entered. */
const asked = z.array(z.enum(BODY_QUESTION_IDS)).max(BODY_QUESTION_IDS.length).optional();

/** Height and weight as they were typed, with their units, for the record. */
const typed = z.strictObject({ height: z.string().max(20), weight: z.string().max(20) }).optional();

/** A reason given for going on although something is missing: the step is entered as a deviation. */
const override = z.strictObject({ reason: sentence }).optional();

/** What a person found the pump had done while the machine slept. */
export const PUMP_SEEN = ['ran on', 'stood still', 'was off'] as const;

export const HOLD_REASONS = ['extravasation', 'pain', 'unwell', 'pump', 'other'] as const;

export const commandSchema = z.discriminatedUnion('kind', [
  // Planning
  z.strictObject({
    kind: z.literal('identify'),
    patientCode: z
      .string()
      .trim()
      .regex(/^[A-Za-z0-9][A-Za-z0-9-]{1,23}$/, 'a code of 2 to 24 letters, digits or dashes'),
    birthDate: calendarDay,
  }),
  z.strictObject({
    kind: z.literal('order'),
    regimenId: z.string().min(1).max(40),
    lesions,
    orderedBy: personName,
    /** Needed where the regimen is off label. */
    offLabelReason: sentence.optional(),
    /** With two eyes: how an earlier treatment went. */
    earlierTreatment: z.enum(['none', 'tolerated', 'not tolerated']).optional(),
    /** The physician's named decision, where the product text of the site would treat one eye only. */
    bothEyes: z.strictObject({ physician: personName, reason: sentence }).optional(),
  }),
  z.strictObject({
    kind: z.literal('screen'),
    answers: screeningAnswersSchema,
    decision: z.strictObject({ physician: personName, reason: sentence }).optional(),
  }),
  z.strictObject({
    kind: z.literal('measure'),
    heightCm,
    weightKg,
    asked,
    typed,
  }),
  z.strictObject({
    kind: z.literal('second-check'),
    heightCm,
    weightKg,
    asked,
    typed,
    regimenId: z.string().min(1).max(40),
    lesions,
  }),
  z.strictObject({
    kind: z.literal('prepare'),
    reconstitutedAgoS: z.number().min(0).max(86_400, 'at most a day ago'),
    override,
  }),

  // Prepared and line primed
  z.strictObject({
    kind: z.literal('drug'),
    lot: z
      .string()
      .trim()
      .regex(/^[A-Za-z0-9][A-Za-z0-9./-]{0,29}$/, 'the lot as printed on the vial'),
    expires: calendarDay,
  }),
  z.strictObject({ kind: z.literal('prime-line'), override }),
  z.strictObject({
    kind: z.literal('line'),
    lineMl: z.number().min(0, 'line volume is 0 to 20 mL').max(20, 'line volume is 0 to 20 mL'),
    primedWith: z.enum(['drug', 'diluent']),
  }),
  z.strictObject({ kind: z.literal('start-pump'), override }),

  // Infusing and flushing
  z.strictObject({ kind: z.literal('hold'), reason: z.enum(HOLD_REASONS), words: sentence.optional() }),
  z.strictObject({ kind: z.literal('resume'), override }),
  z.strictObject({
    kind: z.literal('set-back'),
    agoS: z.number().positive('say how many seconds ago').max(300, 'at most 300 s can be set back'),
  }),
  z.strictObject({ kind: z.literal('begin-flush'), override }),
  z.strictObject({ kind: z.literal('end-flush'), flushMl: z.number().min(0).max(50), override }),

  // Light
  z.strictObject({
    kind: z.literal('read-back'),
    eye: eyeSchema,
    /** Of the lens on the eye, from its own label. */
    lensFactor,
    /** As entered into the laser. */
    laserLensFactor: lensFactor,
    setSpotUm: z.number().min(50).max(15_000),
    irradianceMwPerCm2: z.number().min(10).max(2_000).optional(),
    powerMw: z.number().min(0.1).max(5_000).optional(),
    exposureS: z.number().min(1).max(1_000),
  }),
  z.strictObject({ kind: z.literal('beam-on'), eye: eyeSchema, override }),
  z.strictObject({ kind: z.literal('beam-off'), endedByLaser: z.boolean() }),
  z.strictObject({
    kind: z.literal('beam-set-back'),
    edge: z.enum(['on', 'off']),
    agoS: z.number().positive('say how many seconds ago').max(300, 'at most 300 s can be set back'),
  }),
  z.strictObject({ kind: z.literal('end-light'), override }),

  // Trouble
  z.strictObject({ kind: z.literal('trouble'), card: z.enum(TROUBLE_IDS) }),
  z.strictObject({ kind: z.literal('trouble-told'), card: z.enum(TROUBLE_IDS), words: sentence }),

  // A repeating cue is heard, and need not sound again
  z.strictObject({ kind: z.literal('cue-heard'), cue: z.enum(CUE_IDS) }),

  // After the machine slept
  z.strictObject({ kind: z.literal('looked'), pump: z.enum(PUMP_SEEN) }),

  // After-care
  z.strictObject({ kind: z.literal('reactions'), words: sentence }),
  z.strictObject({ kind: z.literal('review'), reviewDate: calendarDay }),
  z.strictObject({ kind: z.literal('discharge'), override }),

  // Any time
  z.strictObject({ kind: z.literal('check'), item: z.enum(CHECK_IDS), eye: eyeSchema.optional() }),
  z.strictObject({ kind: z.literal('uncheck'), item: z.enum(CHECK_IDS), eye: eyeSchema.optional(), reason: sentence }),
  z.strictObject({ kind: z.literal('note'), words: sentence }),
  z.strictObject({ kind: z.literal('deviation'), words: sentence, reason: sentence }),
  z.strictObject({ kind: z.literal('stop-early'), reason: sentence }),
  z.strictObject({
    kind: z.literal('addendum'),
    words: sentence,
    reason: sentence,
    /** The entry of the same session that it is about; it stays as it is. */
    entrySeq: z.number().int().positive('name the entry by its number').optional(),
  }),
]);

export type Command = z.infer<typeof commandSchema>;
export type CommandKind = Command['kind'];
export type CommandOf<K extends CommandKind> = Extract<Command, { kind: K }>;

export const COMMAND_KINDS = commandSchema.options.map((option) => option.shape.kind.value) as CommandKind[];

/**
 * Opens a session. Not in `commandSchema`: it makes the session that other commands name.
 */
export const openSessionSchema = z.strictObject({ kind: z.literal('open-session') });
