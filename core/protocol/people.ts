import { z } from 'zod';
import { chosenPinSchema, typedPinSchema } from '../people/pin.ts';
import { rosterChangeSchema, rosterPersonSchema } from '../people/roster.ts';
import { initialsSchema } from '../procedure/person.ts';

/**
 * Signing in, and the roster. A PIN passes in these messages alone: it is in no command, no entry, no snapshot and no
 * answer.
 */
const described = rosterPersonSchema.pick({ name: true, initials: true, role: true });

/** What each request says, beside its type and its identity. */
export const peopleAsked = {
  /** `hands`: from now on at this screen. `second`: for one second computation, beside the hands that stay. */
  'sign-in': { initials: initialsSchema, pin: typedPinSchema, as: z.enum(['hands', 'second']) },
  'sign-out': { why: z.enum(['left', 'idle']) },
  /** The first person of a ledger without a roster, who administers it. */
  'first-administrator': { ...described.shape, pin: chosenPinSchema },
  /** Changes the roster. Somebody who joins is given a PIN to be changed at will. */
  'change-roster': { change: rosterChangeSchema, pin: chosenPinSchema.optional() },
  /** An administrator gives somebody a new PIN. */
  'give-pin': { personId: rosterPersonSchema.shape.personId, pin: chosenPinSchema },
  /** Whoever is signed in changes their own. */
  'own-pin': { pin: typedPinSchema, newPin: chosenPinSchema },
  /** With the recovery code from the clinic's safe, an administrator who cannot sign in gets a new PIN. */
  recover: { code: z.string().trim().min(1).max(60), initials: initialsSchema, pin: chosenPinSchema },
} as const;

/** Whoever is signed in at a screen, as that screen shows it. */
export const handsSchema = rosterPersonSchema.omit({ active: true });
export type Hands = z.infer<typeof handsSchema>;

/** Who may be at this station: anyone, by initials as typed; a first administrator, to come; those on the roster. */
export const whoMaySchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('as typed') }),
  z.strictObject({ kind: z.literal('first run') }),
  z.strictObject({ kind: z.literal('roster'), people: z.array(rosterPersonSchema) }),
]);
export type WhoMay = z.infer<typeof whoMaySchema>;

/** Who is signed in at the screen that hears it, and why that changed. */
export const handsMessage = { hands: handsSchema.nullable(), says: z.string().nullable() };

/** What was asked about people is done. A new recovery code is shown once, and kept nowhere. */
export const peopleDoneMessage = { recoveryCode: z.string().nullable() };
