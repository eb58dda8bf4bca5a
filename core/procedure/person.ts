import { z } from 'zod';

/** What a person may be at the station. `station` is the clock itself, the author of due instants. */
export const ROLES = ['nurse', 'operator', 'physician', 'auditor', 'administrator'] as const;

export type Role = (typeof ROLES)[number];

export const initialsSchema = z.string().regex(/^[A-Z]{2,4}$/, 'initials are two to four letters, for example MO');

/** Who gave a command: the person whose hands are at the keyboard. */
export const personSchema = z.strictObject({ initials: initialsSchema, role: z.enum(ROLES) });

export type Person = z.infer<typeof personSchema>;

/** Who wrote an entry: a person, or the station for what the clock itself brought about. */
export const authorSchema = z.union([
  personSchema,
  z.strictObject({ initials: z.literal('station'), role: z.literal('station') }),
]);

export type Author = z.infer<typeof authorSchema>;

export const STATION_AUTHOR: Author = { initials: 'station', role: 'station' };

export const samePerson = (one: Author, other: Author): boolean => one.initials === other.initials;
