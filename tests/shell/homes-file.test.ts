import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { homesFile } from '../../electron/shell/homes-file.ts';
import type { Homes } from '../../electron/shell/placement.ts';
import { newFolder } from '../station/station-under-test.ts';

const WALL = { id: 2, label: 'wall', internal: false, x: 1280, y: 0, longSide: 1920, shortSide: 1080 };
const HOMES: Homes = { console: { ...WALL, id: 1, x: 0 }, board: WALL };
const UNKNOWN: Homes = { console: null, board: null };

function fileIn(folder: string) {
  const said: string[] = [];
  return { said, file: homesFile(join(folder, 'displays.json'), (words) => said.push(words)) };
}

test('what is kept is there at the next start, and nothing lies beside it', () => {
  const folder = newFolder();
  expect(fileIn(folder).file.write(HOMES)).toBe(true);
  const next = fileIn(folder);
  expect(next.file.read()).toEqual(HOMES);
  expect(next.said).toEqual([]);
  expect(readdirSync(folder)).toEqual(['displays.json']);
});

test('at a first start nothing is known, and nothing is said of it', () => {
  const { file, said } = fileIn(newFolder());
  expect(file.read()).toEqual(UNKNOWN);
  expect(said).toEqual([]);
});

test.each([
  ['junk', '\u0000\u0001'],
  ['half a file', JSON.stringify({ version: 1, ...HOMES }).slice(0, 60)],
  ['a later version', JSON.stringify({ version: 2, ...HOMES })],
  ['a display that is none', JSON.stringify({ version: 1, console: null, board: { ...WALL, id: 'two' } })],
])('%s is passed over with a word, and written anew', (_name, content) => {
  const folder = newFolder();
  writeFileSync(join(folder, 'displays.json'), content);
  const { file, said } = fileIn(folder);
  expect(file.read()).toEqual(UNKNOWN);
  expect(said).toEqual([expect.stringMatching(/displays\.json could not be read and is passed over/)]);
  expect(file.write(HOMES)).toBe(true);
  expect(fileIn(folder).file.read()).toEqual(HOMES);
});

test('a disk that refuses is told of, and stops nothing', () => {
  const folder = newFolder();
  mkdirSync(join(folder, 'displays.json'));
  const { file, said } = fileIn(folder);
  expect(file.write(HOMES)).toBe(false);
  expect(said).toEqual([expect.stringMatching(/could not be kept/)]);
});
