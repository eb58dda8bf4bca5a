import { spawn } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ledgerCommand } from '../ledger/ledger-command.ts';
import { ONE_EYE, stepsBefore, TWO_EYES } from '../session-steps.ts';
import { newFolder } from '../station/station-under-test.ts';
import { folderForAll, heldIn, inFolder, ledgerOf, textOf } from './ledger-of.ts';

const AUDITING = resolve(import.meta.dirname, '../../dist/auditing/main.mjs');

describe('the command', () => {
  const file = ledgerOf(
    [
      { id: 'whole', steps: ONE_EYE },
      { id: 'planned', steps: stepsBefore('second-check') },
    ],
    folderForAll(),
  );

  test('exports, says what it wrote in one JSON value, ends with 0, and leaves the ledger as it was', async () => {
    const before = heldIn(file);
    const out = join(newFolder(), 'chain.json');
    const { code, json } = await ledgerCommand('export', file, '--session', 'whole', '--as', 'json', '--out', out);
    expect([code, Object.keys(json)]).toStrictEqual([0, ['file', 'sessions', 'damaged', 'withheld', 'files']]);
    expect(heldIn(file)).toStrictEqual(before);
  });

  test('verifies what it exported with 0, what was changed since with 1, and what is nothing it knows with 2', async () => {
    const out = join(newFolder(), 'chain.json');
    await ledgerCommand('export', file, '--session', 'whole', '--as', 'json', '--out', out);
    const text = textOf(out);
    expect((await ledgerCommand('verify', out, '--against', file)).code).toBe(0);
    writeFileSync(out, text.replace('"initials":"TK"', '"initials":"MO"'));
    expect((await ledgerCommand('verify', out)).code).toBe(1);
    writeFileSync(out, text.replace('dimroom chain export 1', 'dimroom chain export 9'));
    expect((await ledgerCommand('verify', out)).code).toBe(2);
  });

  test('ends with 2 and one sentence where it cannot do what is asked', async () => {
    const folder = newFolder();
    const words = ['export', file, '--session', 'planned', '--as', 'pdf', '--out', join(folder, 'a.pdf')];
    const { code, json } = await ledgerCommand(...words);
    expect([code, json]).toStrictEqual([2, { error: expect.stringMatching(/withheld until a second person/) }]);
    expect(inFolder(folder)).toStrictEqual([]);
    expect((await ledgerCommand('verify', file, '--against', file)).code).toBe(2);
  });
});

describe('interrupted', () => {
  /** Many sessions, so that there is something to interrupt. */
  const many = ledgerOf(
    Array.from({ length: 60 }, (_, n) => ({ id: `session-${n}`, steps: TWO_EYES })),
    folderForAll(),
  );

  /** Runs an export, and signals it again and again from when its file has begun to be written aside. */
  function interrupted(signal: NodeJS.Signals, folder: string, ...words: string[]): Promise<number | null> {
    return new Promise((ended) => {
      const child = spawn(process.execPath, [AUDITING, 'export', many, ...words], { stdio: 'ignore' });
      const watch = setInterval(() => {
        if (inFolder(folder).some((name) => name.endsWith('.partial'))) child.kill(signal);
      }, 1);
      child.once('exit', (code) => {
        clearInterval(watch);
        ended(code);
      });
    });
  }

  test('by a person leaves nothing of a file, what was there before as it was, and the ledger too', async () => {
    const before = heldIn(many);
    const folder = newFolder();
    const out = join(folder, 'table.csv');
    writeFileSync(out, 'the one before');
    expect(await interrupted('SIGINT', folder, '--all', '--out', out, '--replace')).toBe(130);
    expect([inFolder(folder), textOf(out)]).toStrictEqual([['table.csv'], 'the one before']);
    expect(heldIn(many)).toStrictEqual(before);
  });

  test('by the system leaves nothing of a folder', async () => {
    const folder = newFolder();
    const words = ['--patient', 'K-2041', '--as', 'folder', '--out', join(folder, 'patient')];
    expect([await interrupted('SIGTERM', folder, ...words), inFolder(folder)]).toStrictEqual([130, []]);
  });
});
