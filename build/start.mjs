import { spawn } from 'node:child_process';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { bundle } from './bundle.mjs';
import { fetchedElectron, presentElectron, whyNoWindows } from './electron-runtime.mjs';
import { ROOT, stationNode } from './node-runtime.mjs';
import { ready } from './ready.mjs';

const FLAGS = {
  data: { type: 'string', value: 'DIR', says: 'folder of the ledger (default: the data folder of this user)' },
  practice: { type: 'boolean', says: 'practice: a ledger of its own, never taken for treatment' },
  speed: { type: 'string', value: 'N', says: 'practice only: the clock runs N times as fast' },
  guided: { type: 'boolean', says: 'practice with lessons, made-up troubles and a review, 6 times as fast' },
  browser: { type: 'boolean', says: 'serve the screens to a browser instead of opening windows' },
  'no-open': { type: 'boolean', says: 'browser only: print the addresses, open nothing' },
  port: { type: 'string', value: 'N', says: 'browser only: port on 127.0.0.1 (default: any free one)' },
  'no-sandbox': { type: 'boolean', says: "windows only: without Chromium's sandbox (needed as root)" },
  'disable-gpu': { type: 'boolean', says: 'windows only: draw without the graphics card' },
  help: { type: 'boolean', says: 'this list' },
};
/** Electron that ends with a failure this early has never shown a window. */
const EARLY_MS = 5000;
const BAD_FLAGS = 2;

const chosen = readFlags();
if (chosen.help) {
  console.log(usage());
  process.exit(0);
}
ready();
process.exitCode = bundle() ? await start() : 1;

async function start() {
  if (chosen.browser) return serveBrowser();
  const noWindows = whyNoWindows(chosen['no-sandbox']);
  if (noWindows !== null) return insteadOfWindows(noWindows);
  const electron = presentElectron() ?? fetchedElectron();
  if (electron === null) return insteadOfWindows('Electron is not installed and could not be fetched');
  const { early, how, code } = await run(electron, electronWords(), {
    variables: { DIMROOM_STATION_NODE: stationNode() },
    // Ctrl-C reaches it by itself; a second one would end it in the middle of its question.
    passed: ['SIGTERM', 'SIGHUP'],
  });
  return early && code !== 0 ? insteadOfWindows(`Electron ended at once (${how})`) : code;
}

function insteadOfWindows(why) {
  console.error(`${why}: the same screens are served to a browser instead`);
  return serveBrowser();
}

async function serveBrowser() {
  const noDisplay = process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY;
  const port = chosen.port === undefined ? [] : ['--port', chosen.port];
  const open = chosen['no-open'] || noDisplay ? ['--no-open'] : [];
  const { code } = await run(
    stationNode(),
    [join(ROOT, 'dist/browser/main.mjs'), ...stationWords(), ...port, ...open],
    {
      passed: ['SIGINT', 'SIGTERM', 'SIGHUP'],
    },
  );
  return code;
}

function electronWords() {
  const chromium = ['no-sandbox', 'disable-gpu'].filter((flag) => chosen[flag]).map((flag) => `--${flag}`);
  return [...chromium, ROOT, ...stationWords()];
}

/** Without --data both carriers take the same folder: electron/carrier/data-folder.ts. */
function stationWords() {
  return [
    ...(chosen.data === undefined ? [] : ['--data', resolve(chosen.data)]),
    ...(chosen.practice ? ['--practice'] : []),
    ...(chosen.guided ? ['--guided'] : []),
    ...(chosen.speed === undefined ? [] : ['--speed', chosen.speed]),
  ];
}

/** Runs a program to its end, which a signal only asks for: it closes the ledger first. */
function run(program, words, { variables = {}, passed }) {
  const startedMs = performance.now();
  const child = spawn(program, words, { cwd: ROOT, stdio: 'inherit', env: { ...process.env, ...variables } });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
    process.on(signal, () => passed.includes(signal) && child.kill(signal));
  }
  return new Promise((done) => {
    const end = (code, how) => done({ code, how, early: performance.now() - startedMs < EARLY_MS });
    child.once('error', (error) => end(1, error.message));
    child.once('exit', (code, signal) => end(code ?? 1, signal ?? `code ${code}`));
  });
}

function readFlags() {
  try {
    const { values } = parseArgs({ options: optionsOf(FLAGS) });
    const wrong = whatIsWrong(values);
    if (wrong === null) return values;
    throw new Error(wrong);
  } catch (error) {
    console.error(`${error.message}\n\n${usage()}`);
    process.exit(BAD_FLAGS);
  }
}

function whatIsWrong({ speed, practice, guided, port }) {
  if (speed !== undefined && !practice && !guided)
    return '--speed needs --practice: a real clock runs at its own speed';
  if (speed !== undefined && !(Number(speed) >= 0.1 && Number(speed) <= 1000)) return '--speed is from 0.1 to 1000';
  if (port !== undefined && !(/^\d+$/.test(port) && Number(port) <= 65535)) return '--port is from 0 to 65535';
  return null;
}

function optionsOf(flags) {
  return Object.fromEntries(Object.entries(flags).map(([name, { type }]) => [name, { type }]));
}

function usage() {
  const rows = Object.entries(FLAGS).map(([name, { value, says }]) => [`--${name}${value ? ` ${value}` : ''}`, says]);
  return ['npm start -- [flags]', ...rows.map(([flag, says]) => `  ${flag.padEnd(14)} ${says}`)].join('\n');
}
