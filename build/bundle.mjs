import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { filesAt } from './files-at.mjs';
import { isNewEnough, ROOT, stationNode } from './node-runtime.mjs';

/** With native code, or with files of their own beside them. */
export const EXTERNAL = ['better-sqlite3', 'pdfkit', 'bwip-js', '@fontsource/b612', 'write-file-atomic'];
const NODE_TARGET = {
  platform: 'node',
  format: 'esm',
  target: 'node22',
  external: EXTERNAL,
  mainFields: ['module', 'main'],
};
/** The oldest Electron that is tried: Node 18 and Chromium 114. */
const SHELL_TARGET = { platform: 'node', format: 'cjs', target: ['node18', 'chrome114'], external: ['electron'] };
/** CommonJS packages inside an ES module ask for Node's own with `require`. */
const REQUIRE =
  "import { createRequire as requireFrom } from 'node:module'; const require = requireFrom(import.meta.url);";

/** Runs in a thread beside whichever program has a station in it. */
const FINDING = 'electron/station/finding/finding-worker.ts';

/** Every program, from its entry file to the file it becomes. */
const PROGRAMS = [
  { entry: 'electron/station/main.ts', becomes: 'dist/station/main.mjs', ...NODE_TARGET },
  { entry: 'electron/station/reading-worker.ts', becomes: 'dist/station/reading-worker.mjs', ...NODE_TARGET },
  { entry: FINDING, becomes: 'dist/station/finding-worker.mjs', ...NODE_TARGET },
  {
    entry: 'electron/station/exporting/exporting-worker.ts',
    becomes: 'dist/station/exporting-worker.mjs',
    ...NODE_TARGET,
  },
  { entry: 'electron/auditing/main.ts', becomes: 'dist/auditing/main.mjs', ...NODE_TARGET },
  { entry: 'electron/faults/main.ts', becomes: 'dist/faults/main.mjs', ...NODE_TARGET },
  { entry: 'electron/faults/station-under-fault.ts', becomes: 'dist/faults/station-under-fault.mjs', ...NODE_TARGET },
  { entry: 'electron/station/reading-worker.ts', becomes: 'dist/faults/reading-worker.mjs', ...NODE_TARGET },
  { entry: FINDING, becomes: 'dist/faults/finding-worker.mjs', ...NODE_TARGET },
  { entry: 'electron/rehearsal/main.ts', becomes: 'dist/rehearsal/main.mjs', ...NODE_TARGET },
  { entry: 'electron/reckoning/main.ts', becomes: 'dist/reckoning/main.mjs', ...NODE_TARGET },
  { entry: 'electron/browser/main.ts', becomes: 'dist/browser/main.mjs', ...NODE_TARGET, banner: { js: REQUIRE } },
  { entry: 'electron/shell/main.ts', becomes: 'dist/shell/main.cjs', ...SHELL_TARGET },
  { entry: 'electron/shell/preload.ts', becomes: 'dist/shell/preload.cjs', ...SHELL_TARGET },
];
const PAGE = { entry: 'renderer/index.html', becomes: 'dist/renderer/index.html' };

const SOURCES = [
  'core',
  'electron',
  'renderer',
  'assets',
  'build/bundle.mjs',
  'build/vite.config.mjs',
  'package-lock.json',
];
const STAMP = join(ROOT, 'dist/sources.sha256');

/** Bundles every program and the screens into dist/, unless dist/ was made of these very sources. False when it fails. */
export function bundle({ force = false } = {}) {
  if (!force && isFresh()) return true;
  const made = spawnSync(stationNode(), [fileURLToPath(import.meta.url), '--now'], { stdio: ['ignore', 2, 2] });
  if (made.status !== 0) console.error('the programs could not be bundled: see above');
  return made.status === 0;
}

function isFresh() {
  const present = existsSync(STAMP) ? readFileSync(STAMP, 'utf8') : '';
  return present === hashOfSources() && [...PROGRAMS, PAGE].every(({ becomes }) => existsSync(join(ROOT, becomes)));
}

async function bundleNow() {
  const hash = hashOfSources();
  rmSync(STAMP, { force: true });
  const [{ build: buildProgram }, { build: buildPage }, { default: pageConfig }] = await Promise.all([
    import('esbuild'),
    import('vite'),
    import('./vite.config.mjs'),
  ]);
  const programs = PROGRAMS.filter(({ entry }) => existsSync(join(ROOT, entry)));
  await Promise.all(
    programs.map(({ entry, becomes, ...options }) =>
      buildProgram({
        ...options,
        absWorkingDir: ROOT,
        entryPoints: [entry],
        outfile: becomes,
        bundle: true,
        logLevel: 'warning',
        sourcemap: true,
        legalComments: 'none',
      }),
    ),
  );
  await buildPage(pageConfig);
  mkdirSync(join(ROOT, 'dist'), { recursive: true });
  writeFileSync(STAMP, hash);
}

function hashOfSources() {
  const hash = createHash('sha256');
  for (const file of SOURCES.flatMap((source) => filesAt(join(ROOT, source)))) {
    hash
      .update(`${relative(ROOT, file)}\0`)
      .update(readFileSync(file))
      .update('\0');
  }
  return hash.digest('hex');
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  if (process.argv.includes('--now') && isNewEnough())
    await bundleNow().catch((error) => {
      console.error(error.message);
      process.exitCode = 1;
    });
  else process.exitCode = bundle({ force: process.argv.includes('--force') }) ? 0 : 1;
}
