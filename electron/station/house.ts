import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { REGIMENS, type Regimen, regimenSchema } from '../../core/regimen/regimens.ts';
import { SETTINGS_FILE_NAME } from '../../core/settings/file-text.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../core/settings/settings.ts';
import { type ReadJson, readJsonFile, readSettingsFile } from './settings-file.ts';

/** What a site has decided for itself, and what is wrong with the files that say so. */
export interface HouseRules {
  readonly settings: Settings;
  readonly regimens: readonly Regimen[];
  readonly trouble: readonly string[];
  /** SHA-256 of the settings file, where `settings` were taken from it just now. */
  readonly fileSha256?: string;
}

/** Beside the settings; neither file has to be there. */
const REGIMENS_FILE = 'regimens.json';

/**
 * Reads the site's settings and its own regimens. A file that cannot be used changes nothing: `before`, which was in
 * force, goes on being used, and the trouble names the line.
 *
 * The settings file is taken when its bytes are others than those that were taken last, by their SHA-256 in
 * `takenSha256`, and then all of it is: what it leaves out has its default. One that was taken already is not taken
 * again, so that an old file does not undo at the next start what was changed on the screen since. A file that is gone
 * changes nothing.
 */
export function readHouse(
  folder: string,
  before: Settings = DEFAULT_SETTINGS,
  takenSha256: string | null = null,
): HouseRules {
  const file = readJson(join(folder, SETTINGS_FILE_NAME), readSettingsFile);
  const own = readJson(join(folder, REGIMENS_FILE), (bytes) => readJsonFile(bytes, ownRegimensSchema));
  const fresh = file.read?.ok === true && file.read.sha256 !== takenSha256 ? file.read : null;
  return {
    settings: fresh?.value ?? before,
    regimens: [...REGIMENS, ...(own.read?.ok === true ? own.read.value : [])],
    trouble: [...file.trouble, ...own.trouble],
    ...(fresh !== null && { fileSha256: fresh.sha256 }),
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
  /** Null where there is no such file, or it cannot be read at all. */
  readonly read: ReadJson<T> | null;
  readonly trouble: readonly string[];
}

function readJson<T>(file: string, readBytes: (bytes: Uint8Array) => ReadJson<T>): ReadFile<T> {
  if (!existsSync(file)) return { read: null, trouble: [] };
  const unused = (fault: string): string => `${file}${fault}. The file is not used.`;
  try {
    const read = readBytes(readFileSync(file));
    return { read, trouble: read.ok ? [] : read.faults.map(unused) };
  } catch (error) {
    const says = error instanceof Error ? error.message : String(error);
    return { read: null, trouble: [unused(` cannot be read: ${says}`)] };
  }
}
