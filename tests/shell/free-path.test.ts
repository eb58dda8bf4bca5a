import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { freePath } from '../../electron/shell/free-path.ts';
import { newFolder } from '../station/station-under-test.ts';

test('what is in the folder already is not written over', () => {
  const folder = newFolder();
  const paths = [1, 2, 3].map(() => {
    const path = freePath(folder, 'label K-2041.pdf');
    writeFileSync(path, '');
    return path;
  });
  expect(paths).toEqual(
    ['label K-2041.pdf', 'label K-2041 (2).pdf', 'label K-2041 (3).pdf'].map((one) => join(folder, one)),
  );
});

test.each(['../label.pdf', '/etc/label.pdf'])('%s stays in the folder', (name) => {
  const folder = newFolder();
  expect(freePath(folder, name)).toBe(join(folder, 'label.pdf'));
});
