import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { bundle } from './bundle.mjs';
import { neededChromium } from './chromium.mjs';
import { ROOT, stationNode } from './node-runtime.mjs';
import { ready } from './ready.mjs';

// Measures everything that tests/bench can measure on this machine, in one table; see tests/bench/all.ts.
ready();
if (!bundle()) process.exit(1);
const chromium = neededChromium();
const env = { ...process.env, ...(chromium === null ? {} : { CHROMIUM: chromium }) };
const words = [join(ROOT, 'tests/bench/all.ts'), ...process.argv.slice(2)];
const { status } = spawnSync(stationNode(), words, { cwd: ROOT, stdio: 'inherit', env });
process.exit(status ?? 1);
