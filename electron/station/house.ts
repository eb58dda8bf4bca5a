import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { REGIMENS, type Regimen, regimenSchema } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS, type Settings, settingsSchema } from '../../core/settings/settings.ts';
import { lineOfFault, lineOfPath } from './json-lines.ts';

/** What a site has decided for itself, and what is wrong with the files that say so. */
export interface HouseRules {
  readonly settings: Settings;
  readonly regimens: readonly Regimen[];
  readonly trouble: readonly string[];
}

/** A site's own files in the data folder; neither has to be there. */
const SETTINGS_FILE = 'settings.json';
const REGIMENS_FILE = 'regimens.json';

/**
 * Reads the site's settings and its own regimens. A file that cannot be used changes nothing: `before` goes on being
 * used, and the trouble names the line.
 */
export function readHouse(folder: string, before: Settings = DEFAULT_SETTINGS): HouseRules {
  const settings = readJson(join(folder, SETTINGS_FILE), settingsSchema);
  const own = readJson(join(folder, REGIMENS_FILE), ownRegimensSchema);
  return {
    settings: settings.value ?? before,
    regimens: [...REGIMENS, ...(own.value ?? [])],
    trouble: [...settings.trouble, ...own.trouble],
  };
}

const builtIn = new Set(REGIMENS.map((regimen) => regimen.id));

const ownRegimensSchema = z.array(regimenSchema).superRefine((regimens, context) => {
  const seen = new Set(builtIn);
  regimens.forEach((regimen, index) => {
    const fault = (field: string, message: string) =>
      context.addIssue({ code: 'custom', path: [index, field], message });
    if (seen.has(regimen.id)) fault('id', `the id "${regimen.id}" is taken: choose another`);
    if (regimen.onLabel) fault('onLabel', 'a regimen of the site is off label: write false');
    seen.add(regimen.id);
  });
});

interface ReadFile<T> {
  readonly value: T | null;
  readonly trouble: readonly string[];
}

function readJson<T>(file: string, schema: z.ZodType<T>): ReadFile<T> {
  if (!existsSync(file)) return { value: null, trouble: [] };
  const unused = (...faults: string[]): ReadFile<T> => ({
    value: null,
    trouble: faults.map((fault) => `${file}${fault}. The file is not used.`),
  });
  let json: string;
  try {
    // Some editors begin a file with a mark of their own, which is no part of it.
    json = readFileSync(file, 'utf8').replace(/^\uFEFF/, '');
  } catch (error) {
    return unused(` cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  }
  try {
    const read = schema.safeParse(JSON.parse(json));
    return read.success
      ? { value: read.data, trouble: [] }
      : unused(...read.error.issues.flatMap((issue) => faultsOf(issue, json)));
  } catch (error) {
    const says = error instanceof Error ? error.message : String(error);
    return unused(`, line ${lineOfFault(json)}: not JSON: ${says}`);
  }
}

/** What is wrong, each with its line and its field. */
function faultsOf(issue: z.core.$ZodIssue, json: string): string[] {
  const at = (path: readonly PropertyKey[], says: string): string =>
    `, line ${lineOfPath(json, path)}${path.length > 0 ? `, ${path.map(String).join('.')}` : ''}: ${says}`;
  return issue.code === 'unrecognized_keys'
    ? issue.keys.map((key) => at([...issue.path, key], 'there is no such field'))
    : [at(issue.path, issue.message)];
}
