import { z } from 'zod';
import { machineStateSchema } from './moved-machine.ts';

/** What a test tells a station under fault beside what a carrier says; each is answered with its token. */
export const controlSchema = z.union([
  z.strictObject({ machine: machineStateSchema, token: z.number() }),
  z.strictObject({ disk: z.enum(['well', 'full', 'read-only']), token: z.number() }),
]);

export type Control = z.infer<typeof controlSchema>;

export const controlledSchema = z.strictObject({ controlled: z.number() });
