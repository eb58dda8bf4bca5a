import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { EXTERNAL } from './bundle.mjs';
import { ROOT } from './node-runtime.mjs';

/** Needed to compile a package, and not by what is compiled already. */
const NOT_AT_RUN_TIME = ['node-addon-api'];

/** Folders of the packages that lie beside the bundles, relative to the project: those that are not bundled, and theirs. */
export function shippedPackages() {
  const found = new Set();
  for (const name of EXTERNAL) addWithNeeds(name, ROOT, found);
  return [...found].sort();
}

function addWithNeeds(name, from, found) {
  const folder = folderOf(name, from);
  const path = relative(ROOT, folder).replaceAll('\\', '/');
  if (found.has(path)) return;
  found.add(path);
  const { dependencies = {} } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  for (const need of Object.keys(dependencies)) {
    if (!NOT_AT_RUN_TIME.includes(need)) addWithNeeds(need, folder, found);
  }
}

/** Where Node would find a package from a folder. */
function folderOf(name, from) {
  for (let at = from; ; at = dirname(at)) {
    const folder = join(at, 'node_modules', name);
    if (existsSync(join(folder, 'package.json'))) return folder;
    if (dirname(at) === at) throw new Error(`the package ${name} is not installed: npm ci`);
  }
}
