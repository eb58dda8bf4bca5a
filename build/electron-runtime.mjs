import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT, stationNode } from './node-runtime.mjs';

const PACKAGE = join(ROOT, 'node_modules/electron');
const PROGRAM =
  { darwin: 'Electron.app/Contents/MacOS/Electron', win32: 'electron.exe' }[process.platform] ?? 'electron';
const DOWNLOAD_LIMIT_MS = 10 * 60_000;

/** The Electron program that is there: one that a variable names, or the installed one. Null when there is neither. */
export function presentElectron() {
  const named = process.env.ELECTRON_OVERRIDE_DIST_PATH;
  if (named !== undefined && named !== '') return existing(join(named, PROGRAM));
  const note = join(PACKAGE, 'path.txt');
  return existsSync(note) ? existing(join(PACKAGE, 'dist', readFileSync(note, 'utf8').trim())) : null;
}

/** Fetches the pinned Electron, which its package no longer brings along. Null when it cannot be had. */
export function fetchedElectron() {
  console.error('fetching Electron, about 120 MB, once');
  spawnSync(stationNode(), [join(PACKAGE, 'install.js')], { cwd: ROOT, stdio: 'ignore', timeout: DOWNLOAD_LIMIT_MS });
  return presentElectron();
}

/** Why Electron cannot show windows here, as a sentence, or null when it can. `noSandbox`: asked for by the person. */
export function whyNoWindows(noSandbox) {
  if (process.platform !== 'linux') return null;
  if (!process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) return 'there is no display here';
  if (process.getuid() === 0 && !noSandbox)
    return "Electron's sandbox does not run as root (start as another user, or add --no-sandbox)";
  return null;
}

const existing = (path) => (existsSync(path) ? path : null);
