import { z } from 'zod';
import { authorSchema, personSchema } from '../procedure/person.ts';
import { SETTING_NAMES } from '../settings/names.ts';

/** Most bytes of a file of settings, so that in base64 it goes in one message. */
export const SETTINGS_FILE_BYTES = 40_000;

const name = z.enum(SETTING_NAMES);
const value = z.union([z.string().max(500), z.number(), z.boolean(), z.null()]);
const file = {
  fileName: z.string().min(1).max(200),
  base64: z.base64().max(Math.ceil(SETTINGS_FILE_BYTES / 3) * 4),
} as const;

/** What a screen asks about the site's settings, beside the identity of the request. */
export const settingsAsked = {
  /**
   * Changes settings: some by their names, or all by a file. `seenSeq` is the entry of the settings that the person
   * saw: where they were changed meanwhile, nothing is changed. Its own entry, entered once however often it is sent.
   */
  'change-settings': {
    by: personSchema,
    seenSeq: z.number().int().nonnegative(),
    to: z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('values'), values: z.partialRecord(name, value) }),
      z.strictObject({ kind: z.literal('file'), ...file }),
    ]),
    reason: z.string().trim().min(1).max(300).optional(),
  },
  /** Reads a file of settings, and says what it would change. Changes nothing. */
  'read-settings': file,
  /** Asks who changed which setting last. */
  'settings-history': {},
} as const;

export const settingChangeSchema = z.strictObject({ name, before: value, after: value });

/** Who changed a setting last, when, by what, and why where that was said. */
const lastChangeSchema = z.strictObject({
  by: authorSchema,
  wallMs: z.number(),
  offsetMin: z.number(),
  from: z.string(),
  reason: z.string().nullable(),
});
export type LastChange = z.infer<typeof lastChangeSchema>;

export const settingsAnswered = {
  /** The entry of the change is on disk. */
  'settings-changed': { seq: z.number() },
  /** What a file would change; where it cannot be used, `faults` say on which line, and it would change nothing. */
  'settings-read': {
    sha256: z.string(),
    faults: z.array(z.string()),
    changes: z.array(settingChangeSchema),
  },
  /** A setting that was never changed is not in `changed`. */
  'settings-history': { changed: z.partialRecord(name, lastChangeSchema) },
} as const;

const fileSchema = z.strictObject(file);
/** A file's name and its bytes. */
export type SettingsFile = z.infer<typeof fileSchema>;
const historySchema = z.strictObject(settingsAnswered['settings-history']);
export type SettingsHistory = z.infer<typeof historySchema>;
const readSchema = z.strictObject(settingsAnswered['settings-read']);
export type ReadSettings = z.infer<typeof readSchema>;
const changeAskedSchema = z.strictObject(settingsAsked['change-settings']);
export type SettingsChangeAsked = z.infer<typeof changeAskedSchema>;
