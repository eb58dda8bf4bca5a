import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Language } from '../../../core/settings/language.ts';
import { newFolder } from '../browser-carrier.ts';

/** A data folder of a site that has its screens speak a language. */
export function folderSpeaking(language: Language): string {
  const folder = newFolder();
  writeFileSync(join(folder, 'settings.json'), JSON.stringify({ language }));
  return folder;
}
