import { createHash } from 'node:crypto';
import type { z } from 'zod';
import { allowedInFile } from '../../core/settings/allowed.ts';
import { SETTING_NAMES } from '../../core/settings/names.ts';
import { type Settings, settingsSchema } from '../../core/settings/settings.ts';
import { lineOfFault, lineOfPath } from './json-lines.ts';

/** A JSON file as it was read. `faults` begin with where: `, line 3, profile: …`. */
export type ReadJson<T> =
  | { readonly ok: true; readonly value: T; readonly sha256: string }
  | { readonly ok: false; readonly faults: readonly string[]; readonly sha256: string };

/** A file of settings: the same JSON that is exported. What it leaves out has its default. */
export const readSettingsFile = (bytes: Uint8Array): ReadJson<Settings> =>
  readJsonFile(bytes, settingsSchema, (path) => {
    const name = SETTING_NAMES.find((one) => one === path.map(String).join('.'));
    return name === undefined ? null : `allowed: ${allowedInFile(name)}`;
  });

/**
 * Reads the bytes of a JSON file by a schema. Every fault names its line, counted from 1, and its field. `sha256` is of
 * the bytes as they are, so that `sha256sum` gives the same. `allowedAt` says better than the schema what is allowed.
 */
export function readJsonFile<T>(
  bytes: Uint8Array,
  schema: z.ZodType<T>,
  allowedAt: AllowedAt = () => null,
): ReadJson<T> {
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const unused = (...faults: string[]): ReadJson<T> => ({ ok: false, faults, sha256 });
  let json: string;
  try {
    // Some editors begin a file with a mark of their own, which is no part of it: the decoder leaves it out.
    json = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return unused(': not UTF-8: save it as UTF-8 text');
  }
  try {
    const read = schema.safeParse(JSON.parse(json));
    if (read.success) return { ok: true, value: read.data, sha256 };
    return unused(...read.error.issues.flatMap((issue) => faultsOf(issue, json, allowedAt)));
  } catch (error) {
    const says = error instanceof Error ? error.message : String(error);
    return unused(`, line ${lineOfFault(json)}: not JSON: ${says}`);
  }
}

type AllowedAt = (path: readonly PropertyKey[]) => string | null;

/** What is wrong, each with its line and its field. */
function faultsOf(issue: z.core.$ZodIssue, json: string, allowedAt: AllowedAt): string[] {
  const at = (path: readonly PropertyKey[], says: string): string =>
    `, line ${lineOfPath(json, path)}${path.length > 0 ? `, ${path.map(String).join('.')}` : ''}: ${says}`;
  return issue.code === 'unrecognized_keys'
    ? issue.keys.map((key) => at([...issue.path, key], 'there is no such field'))
    : [at(issue.path, allowedAt(issue.path) ?? issue.message)];
}
