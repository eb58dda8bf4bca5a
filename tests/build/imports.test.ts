import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';

/** What the check says of a tree of files. */
function saidOf(files: Record<string, string>): string {
  const root = mkdtempSync(join(tmpdir(), 'dimroom-imports-'));
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
  }
  return spawnSync(process.execPath, ['build/boundaries.mjs', root], { encoding: 'utf8' }).stderr;
}

test.each([
  ['core/a.ts', "import { join } from 'node:path';", 'core may import only xstate, zod, canonicalize'],
  ['core/a.ts', "import type { App } from 'electron';", 'core may import only xstate, zod, canonicalize'],
  ['core/a.ts', "export type { B } from '../renderer/b.ts';", 'core knows nothing outside itself'],
  ['core/a.ts', "export const b = () => import('../electron/station/b.ts');", 'core knows nothing outside itself'],
  ['electron/station/a.ts', "import { app } from 'electron';", 'only electron/shell may import electron'],
  ['electron/browser/a.ts', "import { useState } from 'react';", 'only renderer may import react'],
  ['electron/shell/a.ts', "import Database from 'better-sqlite3';", 'only electron/station may import better-sqlite3'],
  ['renderer/a.tsx', "import { b } from '../electron/station/b.ts';", 'screens and other processes share only core'],
  ['electron/station/a.ts', "import { b } from '../shell/b.ts';", 'a carrier is imported by nobody'],
])('%s may not say %s', (file, text, why) => {
  expect(saidOf({ [file]: text })).toMatch(new RegExp(`^${file} imports ".*": ${why}\n$`));
});

test('what each folder may import passes', () => {
  const files = {
    'core/a.ts': "import { z } from 'zod';\nimport type { B } from './b.ts';\nexport const a = (b: B) => z.string();",
    'core/b.ts': 'export type B = string;',
    'electron/shell/a.ts': "import { app } from 'electron';\nimport { b } from '../carrier/b.ts';",
    'electron/station/a.ts': "import Database from 'better-sqlite3';\nimport { a } from '../../core/a.ts';",
    'renderer/a.tsx': "import sound from '../assets/a.wav?url';\nexport const A = () => <p>{sound}</p>;",
  };
  expect(saidOf(files)).toBe('');
});
