import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { REGIMENS, type Regimen, regimenSchema } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS, type Settings, settingsSchema } from '../../core/settings/settings.ts';
import { lineOfPath } from './json-lines.ts';

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

function readJson<T>(file: string, schema: z.ZodType<T>): { value: T | null; trouble: string[] } {
  if (!existsSync(file)) return { value: null, trouble: [] };
  const json = readFileSync(file, 'utf8');
  try {
    const read = schema.safeParse(JSON.parse(json));
    if (read.success) return { value: read.data, trouble: [] };
    const trouble = read.error.issues.map((issue) => {
      const path = issue.code === 'unrecognized_keys' ? [...issue.path, issue.keys[0] ?? ''] : issue.path;
      return `${file}, line ${lineOfPath(json, path)}, ${path.map(String).join('.')}: ${issue.message}. The file is not used.`;
    });
    return { value: null, trouble };
  } catch (error) {
    return {
      value: null,
      trouble: [`${file} is not JSON: ${error instanceof Error ? error.message : ''}. The file is not used.`],
    };
  }
}
