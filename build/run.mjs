import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { bundle } from './bundle.mjs';
import { ROOT, stationNode } from './node-runtime.mjs';
import { ready } from './ready.mjs';

// Runs one of the programs without a screen: `node build/run.mjs rehearsal --speed 60`. Standard output is the
// program's alone; whatever has to be installed or built first speaks on standard error.
const [name, ...words] = process.argv.slice(2);
const entry = join(ROOT, 'dist', name ?? '', 'main.mjs');

ready();
bundle();
if (name === undefined || !existsSync(entry)) {
  console.error(`there is no program "${name ?? ''}"`);
  process.exit(2);
}
const { status } = spawnSync(stationNode(), [entry, ...words], { stdio: 'inherit' });
process.exit(status ?? 1);
