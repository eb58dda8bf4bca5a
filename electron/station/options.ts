import { parseArgs } from 'node:util';
import envPaths from 'env-paths';
import { z } from 'zod';

const SPEED = '--speed is how many times faster than real time, from 0.1 to 1000';

const optionsSchema = z
  .strictObject({
    data: z.string('name a data folder with --data').min(1, 'name a data folder with --data'),
    practice: z.boolean().default(false),
    speed: z.coerce.number(SPEED).min(0.1, SPEED).max(1000, SPEED).optional(),
    stepped: z.boolean().default(false),
    /** Lessons, made-up troubles and a review beside each practice session. */
    guided: z.boolean().default(false),
    /** Initials are taken as typed: for stations that programs talk to, which no carrier with people starts so. */
    'as-typed': z.boolean().default(false),
    /** Where entries are kept while the ledger's disk does not take them. */
    emergency: z
      .string()
      .min(1)
      .default(envPaths('dimroom', { suffix: '' }).log),
  })
  .refine(({ practice, speed, stepped }) => practice || (speed === undefined && !stepped), {
    message: 'the clock runs at another speed only in practice: add --practice',
  })
  .refine(({ practice, guided }) => practice || !guided, {
    message: 'troubles are made up only in practice: add --practice to --guided',
  });

export type Options = z.infer<typeof optionsSchema>;

/** Reads the station's command line. @throws Error with a sentence for the person. */
export function readOptions(words: readonly string[]): Options {
  const { values } = parseArgs({
    args: [...words],
    options: {
      data: { type: 'string' },
      practice: { type: 'boolean' },
      speed: { type: 'string' },
      stepped: { type: 'boolean' },
      guided: { type: 'boolean' },
      'as-typed': { type: 'boolean' },
      emergency: { type: 'string' },
    },
  });
  const options = optionsSchema.safeParse(values);
  if (!options.success) throw new Error(options.error.issues.map((issue) => issue.message).join('; '));
  return options.data;
}
