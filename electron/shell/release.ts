import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { app } from 'electron';

/** Flags of Chromium that open a way to drive the screens from another process. No fuse closes them. */
const DEBUGGING_FLAGS = ['remote-debugging-port', 'remote-debugging-pipe'];

/**
 * Whether this is a release, which lets no variable choose what it runs. A development tree is none, and neither is a
 * packaged app whose archive says in its package.json that it was made for tests (`build/package.mjs --test-build`).
 * Nothing outside the archive has a say in it.
 */
export const isRelease = (): boolean => app.isPackaged && !saysTestBuild(join(app.getAppPath(), 'package.json'));

/** Takes those flags away from a release. Before the app is ready: Chromium reads them then. */
export function refuseDebugging(): void {
  if (isRelease()) for (const flag of DEBUGGING_FLAGS) app.commandLine.removeSwitch(flag);
}

function saysTestBuild(path: string): boolean {
  const said: unknown = JSON.parse(readFileSync(path, 'utf8'));
  return typeof said === 'object' && said !== null && 'testBuild' in said && said.testBuild === true;
}
