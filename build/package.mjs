import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { bundle } from './bundle.mjs';
import { fetchedElectron, presentElectron } from './electron-runtime.mjs';
import { runtimeVersion } from './electron-runtime-version.mjs';
import { filesAt } from './files-at.mjs';
import { ROOT, stationNode } from './node-runtime.mjs';
import { packageConfig, programIn } from './package-config.mjs';
import { ready } from './ready.mjs';
import { writeSbom } from './sbom.mjs';

const FLAGS = {
  all: { type: 'boolean', says: "this system's installers too (AppImage and deb; nsis; dmg)" },
  'test-build': { type: 'boolean', says: 'the build that tests drive: never give it to anybody' },
  help: { type: 'boolean', says: 'this list' },
};
const BAD_FLAGS = 2;
/** Of each system, the forms of installer, and how their files end. */
const INSTALLERS = {
  darwin: { dmg: '.dmg' },
  win32: { nsis: '.exe' },
  linux: { AppImage: '.AppImage', deb: '.deb' },
};

/** Where each of the two builds is put. */
export const folderOf = (testBuild) => join(ROOT, 'dist/packages', testBuild ? 'test-build' : 'release');

/**
 * Makes the unpacked app for this system, unless it is there and made of these very files.
 *
 * @returns its program file.
 * @throws Error that says what is lacking.
 */
export function unpackedApp({ testBuild }) {
  const made = madeOf(testBuild);
  const stamp = join(folderOf(testBuild), 'made-of.sha256');
  if (!existsSync(stamp) || readFileSync(stamp, 'utf8') !== made) {
    rmSync(folderOf(testBuild), { recursive: true, force: true });
    if (!build(testBuild, 'dir')) throw new Error('the app could not be packaged: see above');
    writeFileSync(stamp, made);
  }
  return programIn(unpackedIn(folderOf(testBuild)));
}

/** electron-builder names the folder by system and processor. */
function unpackedIn(folder) {
  const name = readdirSync(folder).find((one) => /unpacked$|^mac/.test(one));
  if (name === undefined) throw new Error(`there is no unpacked app in ${folder}`);
  return join(folder, name);
}

function madeOf(testBuild) {
  const hash = createHash('sha256').update(`${testBuild} ${runtimeVersion()} ${process.platform} ${process.arch}`);
  for (const file of ['dist/sources.sha256', 'dist/sbom.cdx.json', 'package.json', 'build', 'assets/icon'].flatMap(
    (part) => filesAt(join(ROOT, part)),
  )) {
    hash.update(relative(ROOT, file)).update(readFileSync(file));
  }
  return hash.digest('hex');
}

/** electron-builder speaks much: on standard error, which leaves standard output to what was made. False when it fails. */
function build(testBuild, target) {
  const words = [fileURLToPath(import.meta.url), '--now', target, ...(testBuild ? ['--test-build'] : [])];
  const { status } = spawnSync(stationNode(), words, { cwd: ROOT, stdio: ['ignore', 2, 2] });
  return status === 0;
}

async function buildNow(target, testBuild) {
  const { build: make, Platform } = await import('electron-builder');
  const electronDist = distOf(presentElectron());
  await make({
    projectDir: ROOT,
    publish: 'never',
    targets: Platform.current().createTarget(target),
    // An installer is made of the very app that is there.
    prepackaged: target === 'dir' ? null : unpackedIn(folderOf(testBuild)),
    config: packageConfig({
      testBuild,
      electronDist,
      electronVersion: runtimeVersion(),
      output: folderOf(testBuild),
    }),
  });
}

const distOf = (program) => (process.platform === 'darwin' ? join(dirname(program), '../../..') : dirname(program));

function prepare() {
  ready();
  if ((presentElectron() ?? fetchedElectron()) === null) {
    throw new Error(
      'no Electron runtime: run node_modules/.bin/install-electron, or name its folder in ELECTRON_OVERRIDE_DIST_PATH',
    );
  }
  if (!bundle()) throw new Error('nothing was packaged');
  writeSbom();
}

/** The installers fetch tools of their own: one that cannot be made does not keep the others from being made. */
function installers() {
  const folder = folderOf(false);
  const lacking = [];
  for (const [target, ending] of Object.entries(INSTALLERS[process.platform] ?? {})) {
    const there = () => readdirSync(folder).filter((name) => name.endsWith(ending));
    for (const earlier of there()) rmSync(join(folder, earlier));
    build(false, target);
    const made = there();
    for (const name of made) console.log(join(folder, name));
    if (made.length === 0) lacking.push(target);
  }
  if (lacking.length === 0) return;
  throw new Error(
    `not made: ${lacking.join(', ')}. See above; electron-builder fetches tools for them once, from a network`,
  );
}

function readFlags() {
  try {
    const options = Object.fromEntries(Object.entries(FLAGS).map(([name, { type }]) => [name, { type }]));
    const { values } = parseArgs({ options });
    if (values.all && values['test-build']) throw new Error('--all is for a release: leave out --test-build');
    return values;
  } catch (error) {
    console.error(`${error.message}\n\n${usage()}`);
    process.exit(BAD_FLAGS);
  }
}

function usage() {
  const rows = Object.entries(FLAGS).map(([name, { says }]) => `  --${name.padEnd(12)} ${says}`);
  return ['npm run package -- [flags]', ...rows].join('\n');
}

function packageIt({ all, 'test-build': testBuild = false, help }) {
  if (help) return console.log(usage());
  prepare();
  console.log(unpackedApp({ testBuild }));
  if (all) installers();
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const [now, target] = process.argv.slice(2);
  try {
    if (now === '--now') await buildNow(target, process.argv.includes('--test-build'));
    else packageIt(readFlags());
  } catch (error) {
    console.error(error.message);
    process.exitCode = 1;
  }
}
