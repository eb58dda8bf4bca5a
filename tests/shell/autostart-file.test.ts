import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { autostartEntry, setAutostart } from '../../electron/shell/autostart-file.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'dimroom-autostart-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const started = { program: '/opt/dimroom/dimroom', words: ['--data', '/srv/ledger'] };

test('the file is made with its folder, and says what is started', () => {
  const path = join(folder, 'autostart/dimroom.desktop');
  setAutostart(path, started);
  const lines = readFileSync(path, 'utf8').split('\n');
  expect(lines).toContain('Type=Application');
  expect(lines).toContain('TryExec=/opt/dimroom/dimroom');
  expect(lines).toContain('Exec="/opt/dimroom/dimroom" "--data" "/srv/ledger"');
  expect(readdirSync(join(folder, 'autostart'))).toEqual(['dimroom.desktop']);
});

test('it is taken away when it is no longer wanted, and nothing is made of what was never there', () => {
  const path = join(folder, 'autostart/dimroom.desktop');
  setAutostart(path, null);
  expect(existsSync(join(folder, 'autostart'))).toBe(false);
  setAutostart(path, started);
  setAutostart(path, null);
  expect(readdirSync(join(folder, 'autostart'))).toEqual([]);
});

test('another app’s file beside it is left alone', () => {
  writeFileSync(join(folder, 'other.desktop'), 'x');
  setAutostart(join(folder, 'dimroom.desktop'), started);
  setAutostart(join(folder, 'dimroom.desktop'), null);
  expect(readdirSync(folder)).toEqual(['other.desktop']);
});

test.each([
  ['a blank', '/srv/my ledger'],
  ['quotes', '/srv/"quoted" \'single\''],
  ['what a shell would run', '/srv/`id`$(id)$HOME'],
  ['a backslash', '/srv/a\\b\\\\c'],
  ['a percent sign', '/srv/100%/%f%u'],
])('%s in a path stays one word, the same letters', (_name, path) => {
  const [, exec = ''] = /^Exec=(.*)$/m.exec(autostartEntry({ program: '/bin/dimroom', words: [path] })) ?? [];
  expect(wordsOf(exec)).toEqual(['/bin/dimroom', path]);
});

/** Reads the line by the two rules of the specification, and lets a shell, whose quoting is the same, take it apart. */
function wordsOf(exec: string): string[] {
  const value = exec.replaceAll('\\\\', '\\').replaceAll('%%', '%');
  const told = execFileSync('/bin/sh', ['-c', `for word in ${value}; do printf '%s\\n' "$word"; done`], {
    encoding: 'utf8',
  });
  return told.trimEnd().split('\n');
}
