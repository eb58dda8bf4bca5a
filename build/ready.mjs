import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT, stationNode } from './node-runtime.mjs';

/** Installs what package-lock.json names where it is not installed yet. Ends the process, saying why, when it cannot. */
export function ready() {
  const why = whatIsMissing();
  if (why === null) return;
  console.error(`${why}: installing with "npm ci"; the first time takes a few minutes`);
  const npm = spawnSync('npm', ['ci', '--no-progress'], {
    cwd: ROOT,
    stdio: ['ignore', 'ignore', 'pipe'],
    encoding: 'utf8',
    shell: process.platform === 'win32',
  });
  const lacking = npm.status === 0 ? whatIsMissing() : whyNpmFailed(npm);
  if (lacking === null) return;
  console.error(`not ready: ${lacking}`);
  process.exit(1);
}

function whatIsMissing() {
  const installed = join(ROOT, 'node_modules/.package-lock.json');
  if (!existsSync(installed)) return 'the packages are not installed';
  if (statSync(join(ROOT, 'package-lock.json')).mtimeMs > statSync(installed).mtimeMs)
    return 'package-lock.json has changed since the packages were installed';
  if (stationNode() === null) return 'the package "node" (Node 24) is not installed, and this Node is older than 22';
  return null;
}

function whyNpmFailed({ error, stderr, status }) {
  if (error !== undefined) return `npm could not be started: ${error.message}`;
  const lines = stderr.split('\n').filter((line) => line.trim() !== '');
  if (NO_NETWORK.test(stderr))
    return `the package registry could not be reached; connect to a network\n${first(lines)}`;
  return `"npm ci" ended with code ${status}\n${first(lines)}`;
}

const NO_NETWORK = /ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|network/;
const first = (lines) => lines.slice(0, 4).join('\n');

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) ready();
