import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
const FIXED_PLACES = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** A Chromium for the tests of the screens: the one that CHROMIUM names, else an installed one. Null when there is none. */
export function presentChromium() {
  const named = process.env.CHROMIUM;
  if (named !== undefined && named !== '') return existsSync(named) ? named : null;
  const folders = (process.env.PATH ?? '').split(delimiter);
  const places = folders.flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return [...places, ...FIXED_PLACES].find((place) => existsSync(place)) ?? null;
}

/** The same, installed first where this machine is a Debian that we may install on. */
export function neededChromium() {
  const present = presentChromium();
  if (present !== null || !existsSync('/etc/debian_version') || process.getuid() !== 0) return present;
  console.error('installing chromium with apt-get, for the tests of the screens');
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  for (const words of [['update'], ['install', '-y', '--no-install-recommends', 'chromium']]) {
    spawnSync('apt-get', ['-qq', ...words], { stdio: 'ignore', env });
  }
  return presentChromium();
}
