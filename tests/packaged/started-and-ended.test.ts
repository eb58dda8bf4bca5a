import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { SOON } from '../desktop/desktop.ts';
import { kindsIn } from '../station/independent-reading.ts';
import { executableOf, HAS_PACKAGING, MAKING_MS, newDataFolder, packaged } from './packaged-app.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const { presentElectron }: { presentElectron: () => string | null } = await import(
  join(ROOT, 'build/electron-runtime.mjs')
);
const { runtimeVersion }: { runtimeVersion: () => string } = await import(
  join(ROOT, 'build/electron-runtime-version.mjs')
);

/** No inspector can drive a release: it is started as a person starts it, and looked at from outside. */
describe.skipIf(!HAS_PACKAGING)('a release that is started', () => {
  let folder: string;
  let shell: ChildProcess;
  let written = '';

  beforeAll(() => {
    folder = newDataFolder();
    const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
    const lures = [script(folder), '--inspect=127.0.0.1:0', '--remote-debugging-port=0'];
    shell = spawn(executableOf(packaged('release')), [...lures, ...asRoot, '--disable-gpu', '--data', folder], {
      env: { ...process.env, ...luresIn(folder) },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const keep = (text: Buffer): void => {
      written += text.toString();
    };
    for (const stream of [shell.stdout, shell.stderr]) stream?.on('data', keep);
  }, MAKING_MS);

  afterAll(() => {
    if (shell?.exitCode === null) shell.kill('SIGKILL');
    if (folder !== undefined) rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
  });

  const log = (): string => contentOf(join(folder, 'windows/logs/dimroom.log'));

  test('opens its windows', async () => {
    await expect.poll(log, SOON).toContain('the console is shown');
  });

  test.skipIf(isOlderThanPinned())('has its station write to the ledger, on the Node in Electron', async () => {
    const ledger = join(folder, 'ledger.sqlite3');
    await expect.poll(() => (existsSync(ledger) ? kindsIn(ledger) : []), SOON).toContain('station-started');
  });

  test.runIf(isOlderThanPinned())('says so where its Electron is too old for the station', async () => {
    await expect.poll(log, SOON).toContain('the station cannot work: the station ends whenever it is started');
  });

  test('runs nothing that a variable or a flag names', () => {
    expect(namedAndRun(folder)).toEqual([]);
    expect(written).not.toMatch(/Debugger listening|DevTools listening/);
  });

  test('ends when it is asked to', async () => {
    const ended = new Promise((tell) => shell.once('exit', (code, signal) => tell(signal ?? code)));
    shell.kill('SIGTERM');
    expect(await ended).toBe(0);
  });
});

test.skipIf(!HAS_PACKAGING)('a bare Electron does run what the same variables name', () => {
  const folder = newDataFolder();
  execFileSync(presentElectron() ?? '', [script(folder)], { env: { ...process.env, ...luresIn(folder) } });
  expect(namedAndRun(folder)).toEqual(['named-by-a-variable.ran', 'named-by-a-word.ran']);
  rmSync(folder, { recursive: true });
});

/** Whether windows are tried in an Electron of before the one that is packed in: its Node may not hold SQLite. */
function isOlderThanPinned(): boolean {
  const { devDependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  return Number.parseInt(runtimeVersion(), 10) < Number.parseInt(devDependencies.electron, 10);
}

const script = (folder: string): string => join(folder, 'named-by-a-word.cjs');

/** Programs that leave a file behind when they are run, and the variables that name them. */
function luresIn(folder: string): Record<string, string> {
  const preloaded = join(folder, 'named-by-a-variable.cjs');
  for (const path of [script(folder), preloaded]) {
    writeFileSync(path, `require('node:fs').writeFileSync(${JSON.stringify(ranBy(path))}, '');\n`);
  }
  const node = join(folder, 'named-as-node.sh');
  writeFileSync(node, `#!/bin/sh\ntouch '${ranBy(node)}'\n`);
  chmodSync(node, 0o755);
  return { ELECTRON_RUN_AS_NODE: '1', NODE_OPTIONS: `--require ${preloaded}`, DIMROOM_STATION_NODE: node };
}

const ranBy = (path: string): string => path.replace(/\.\w+$/, '.ran');

const namedAndRun = (folder: string): string[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.ran'))
    .sort();

const contentOf = (path: string): string => (existsSync(path) ? readFileSync(path, 'utf8') : '');
