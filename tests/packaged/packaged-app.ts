import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { type Desktop, desktopOf, HAS_DESKTOP } from '../desktop/desktop.ts';

const ROOT = resolve(import.meta.dirname, '../..');

/** Packages are made and started only where windows can be shown; the reason why not is printed by `npm test`. */
export const HAS_PACKAGING = HAS_DESKTOP;

/** Making one from nothing takes this long on a slow machine. */
export const MAKING_MS = 300_000;

/** The program file of an unpacked app, made first unless it is there already. */
export function packaged(which: 'release' | 'test build'): string {
  const words = ['build/package.mjs', ...(which === 'test build' ? ['--test-build'] : [])];
  const told = execFileSync(process.execPath, words, { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 2] });
  return told.trim().split('\n').at(-1) ?? '';
}

/** The archive in an unpacked app, and the folder beside it for what must be plain files. */
export const archiveOf = (program: string): string =>
  process.platform === 'darwin'
    ? join(program, 'Contents/Resources/app.asar')
    : join(dirname(program), 'resources/app.asar');

/** On macOS an app is a folder. */
export const executableOf = (program: string): string =>
  process.platform === 'darwin' ? join(program, 'Contents/MacOS/Dimroom') : program;

export const newDataFolder = (): string => mkdtempSync(join(tmpdir(), 'dimroom-packaged-'));

interface Wanted {
  readonly words?: readonly string[];
  readonly variables?: Readonly<Record<string, string>>;
  readonly folder?: string;
}

/** The packaged build for tests, started on a folder. */
export const startPackaged = ({ words = [], variables = {}, folder = newDataFolder() }: Wanted): Promise<Desktop> =>
  desktopOf({ program: executableOf(packaged('test build')), words, variables }, folder);

/** Ends an app in the middle of a treatment, where it would ask a person first. */
export async function killed({ app, folder }: Desktop): Promise<void> {
  const closed = app.waitForEvent('close');
  app.process().kill('SIGKILL');
  await closed;
  rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
}
