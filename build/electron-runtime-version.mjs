import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from './node-runtime.mjs';

/** The version of the Electron that a package is made with: of the folder that a variable names, else of the pinned one. */
export function runtimeVersion() {
  const named = process.env.ELECTRON_OVERRIDE_DIST_PATH;
  const file = named === undefined || named === '' ? '' : join(named, 'version');
  if (existsSync(file)) return readFileSync(file, 'utf8').trim().replace(/^v/, '');
  return JSON.parse(readFileSync(join(ROOT, 'node_modules/electron/package.json'), 'utf8')).version;
}
