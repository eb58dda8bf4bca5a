import { z } from 'zod';

/** How sure a figure is: read in the source named, recalled, reckoned from other figures, or the clinic's own rule. */
export const sureSchema = z.enum(['found', 'memory', 'computed', 'local']);
export type Sure = z.infer<typeof sureSchema>;

export const sourceSchema = z.strictObject({ text: z.string().min(1), sure: sureSchema });

/** Where a figure comes from. Screens show the text with the words of SURE_WORDS. */
export type Source = z.infer<typeof sourceSchema>;

export const SURE_WORDS = {
  found: 'found in the source named',
  memory: 'value from memory, verify',
  computed: 'computed',
  local: 'local practice',
} as const satisfies Record<Sure, string>;
