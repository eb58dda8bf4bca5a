import { spawnSync } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { ROOT, stationNode } from './node-runtime.mjs';

/** Form, types, and which folder may import what. Each runs on the packages' own Node. */
const CHECKS = [
  { name: 'form', words: ['node_modules/@biomejs/biome/bin/biome', 'check', '--colors=off'] },
  { name: 'types', words: ['node_modules/typescript/bin/tsc', '-p', '.'] },
  { name: 'imports', words: ['build/boundaries.mjs'] },
];

/** Runs every check, says which failed, and returns their names. */
export function check() {
  const failed = CHECKS.filter(({ words }) => {
    const { status } = spawnSync(stationNode(), words, { cwd: ROOT, stdio: ['ignore', 2, 2] });
    return status !== 0;
  }).map(({ name }) => name);
  console.error(failed.length === 0 ? 'checks passed: form, types, imports' : `checks failed: ${failed.join(', ')}`);
  return failed;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) process.exitCode = check().length === 0 ? 0 : 1;
