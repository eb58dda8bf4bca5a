import { existsSync, readFileSync } from 'node:fs';
import writeFileAtomic from 'write-file-atomic';
import { z } from 'zod';
import { attemptsSchema } from '../../../core/people/attempts.ts';
import { rosterSchema } from '../../../core/people/roster.ts';
import { verifierSchema } from './verifier.ts';

/**
 * What is kept of people outside the ledger: how their PINs are recognised, and wrong ones counted. None of it can be
 * read back as a PIN. The roster is the ledger's; its copy here serves a ledger begun anew after damage, which must not
 * be anybody's to take.
 */
const keptSchema = z.strictObject({
  version: z.literal(1),
  roster: rosterSchema,
  /** By `personId`. */
  pins: z.record(z.string(), verifierSchema),
  recovery: verifierSchema.nullable(),
  /** By initials. */
  attempts: z.record(z.string(), attemptsSchema),
});

export type Kept = z.infer<typeof keptSchema>;

export const NOTHING_KEPT: Kept = { version: 1, roster: [], pins: {}, recovery: null, attempts: {} };

export interface PeopleFile {
  readonly path: string;
  /** @throws PeopleUnreadable where the file is there and cannot be used; nobody may sign in then. */
  read(): Kept;
  /** On disk when it returns, whole or not at all; for the station's own user alone. */
  write(kept: Kept): void;
}

/** The message says what to do. */
export class PeopleUnreadable extends Error {}

const OWNER_ONLY = 0o600;

export const peopleFile = (path: string): PeopleFile => ({
  path,
  read: () => {
    if (!existsSync(path)) return NOTHING_KEPT;
    const kept = keptSchema.safeParse(parsed(path));
    if (!kept.success)
      throw new PeopleUnreadable(
        `${path} cannot be used, so nobody can sign in: put back a copy of it, and start again`,
      );
    return kept.data;
  },
  write: (kept) => writeFileAtomic.sync(path, `${JSON.stringify(kept, null, 2)}\n`, { mode: OWNER_ONLY, fsync: true }),
});

function parsed(path: string): unknown {
  try {
    return JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return undefined;
  }
}
