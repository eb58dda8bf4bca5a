import { z } from 'zod';
import { initialsSchema, type Person, ROLES } from '../procedure/person.ts';

/**
 * A person of the roster. `initials` are what entries carry: unique over everyone who was ever in it, so that an old
 * entry still names one person. `administers` adds the administrator's duties to those of the role.
 */
export const rosterPersonSchema = z.strictObject({
  personId: z.string().min(8).max(64),
  name: z.string().trim().min(2, 'name the person').max(80, 'a name of at most 80 letters'),
  initials: initialsSchema,
  role: z.enum(ROLES),
  administers: z.boolean(),
  /** False once the person has left: signs in no more, and stays in the list. */
  active: z.boolean(),
});

export type RosterPerson = z.infer<typeof rosterPersonSchema>;

export const rosterSchema = z.array(rosterPersonSchema).max(500);

export type Roster = z.infer<typeof rosterSchema>;

const described = rosterPersonSchema.omit({ personId: true, active: true });

/** What can be done to the roster. PINs are not in it: they are no part of any entry. */
export const rosterChangeSchema = z.discriminatedUnion('change', [
  z.strictObject({ change: z.literal('join'), ...described.shape }),
  z.strictObject({
    change: z.literal('describe'),
    personId: rosterPersonSchema.shape.personId,
    ...described.omit({ initials: true }).shape,
  }),
  z.strictObject({ change: z.literal('leave'), personId: rosterPersonSchema.shape.personId }),
  z.strictObject({ change: z.literal('return'), personId: rosterPersonSchema.shape.personId }),
]);

export type RosterChange = z.infer<typeof rosterChangeSchema>;

/** A change that the roster does not take; the message says what to do. */
export class RosterRefused extends Error {}

/**
 * The roster after a change. `newId` names the person who joins.
 *
 * @throws RosterRefused where initials are taken, the person is not in it, or no administrator would be left.
 */
export function rosterAfter(roster: Roster, asked: RosterChange, newId: string): Roster {
  const after = asked.change === 'join' ? joined(roster, asked, newId) : changed(roster, asked);
  if (!after.some(({ active, ...person }) => active && administersAll(person)))
    throw new RosterRefused('somebody has to administer: name another administrator first');
  return after;
}

/** Whether the roster and settings are this person's to change. */
export const administersAll = ({ role, administers }: Pick<RosterPerson, 'role' | 'administers'>): boolean =>
  administers || role === 'administrator';

/** How entries name somebody. */
export const asPerson = ({ initials, role }: RosterPerson): Person => ({ initials, role });

export const personBy = (roster: Roster, initials: string): RosterPerson | null =>
  roster.find((one) => one.active && one.initials === initials) ?? null;

function joined(roster: Roster, { change: _, ...person }: Joining, personId: string): Roster {
  const taken = roster.find(({ initials }) => initials === person.initials);
  if (taken !== undefined)
    throw new RosterRefused(
      `${person.initials} are the initials of ${taken.name}${taken.active ? '' : ', who has left'}: choose others, entries are known by them`,
    );
  return [...roster, { personId, ...person, active: true }];
}

function changed(roster: Roster, asked: Exclude<RosterChange, Joining>): Roster {
  const { personId } = asked;
  if (!roster.some((one) => one.personId === personId))
    throw new RosterRefused('that person is not in the roster: look at it again');
  return roster.map((one) => {
    if (one.personId !== personId) return one;
    if (asked.change !== 'describe') return { ...one, active: asked.change === 'return' };
    const { name, role, administers } = asked;
    return { ...one, name, role, administers };
  });
}

type Joining = Extract<RosterChange, { change: 'join' }>;
