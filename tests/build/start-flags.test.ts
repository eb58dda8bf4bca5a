import { spawnSync } from 'node:child_process';
import { expect, test } from 'vitest';

const start = (...flags: string[]) => spawnSync(process.execPath, ['build/start.mjs', ...flags], { encoding: 'utf8' });

test.each([
  [['--fullscreen'], "Unknown option '--fullscreen'"],
  [['folder'], "Unexpected argument 'folder'"],
  [['--speed', '10'], '--speed needs --practice'],
  [['--practice', '--speed', '0'], '--speed is from 0.1 to 1000'],
  [['--guided', '--speed', '0'], '--speed is from 0.1 to 1000'],
  [['--browser', '--port', 'any'], '--port is from 0 to 65535'],
])('starting with %j is refused, with the flags that there are', (flags, why) => {
  const { status, stderr } = start(...flags);
  expect(status).toBe(2);
  expect(stderr).toContain(why);
  for (const flag of ['--data', '--practice', '--speed', '--browser', '--no-open', '--port']) {
    expect(stderr).toContain(flag);
  }
});
