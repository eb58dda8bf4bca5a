import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { CUE_IDS, SIGNALS, SOUNDS } from '../../core/procedure/cue-table.ts';
import { LANGUAGES } from '../../core/settings/language.ts';
import { differences, SCRIPT, SOUNDS_FOLDER, soundFiles, wavAt, writeSounds } from './sound-files.ts';

const TONES = [...SOUNDS, ...SIGNALS].map((id) => `${id}.wav`);
const SPEECH = LANGUAGES.flatMap((language) => [...CUE_IDS, ...SIGNALS].map((id) => `spoken/${language}/${id}.wav`));

const files = await soundFiles();
const tones = files.filter(({ name }) => TONES.includes(name));

test('there is a tone for every sound and signal, words for every cue in every language, and no other file', () => {
  const kept = readdirSync(SOUNDS_FOLDER, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.wav'),
  );
  expect(kept.sort()).toEqual([...TONES, ...SPEECH].sort());
  expect(files.map(({ name }) => name).sort()).toEqual([...TONES, ...SPEECH].sort());
});

test.each([...TONES, ...SPEECH])('%s is PCM, 16 bit, mono', (name) => {
  const wav = wavAt(name.replace(/\.wav$/, ''));
  expect(wav.toString('latin1', 0, 4) + wav.toString('latin1', 8, 16)).toBe('RIFFWAVEfmt ');
  expect(wav.readUInt32LE(4)).toBe(wav.length - 8);
  expect([20, 22, 32, 34].map((at) => wav.readUInt16LE(at))).toEqual([1, 1, 2, 16]);
  const rateHz = name.startsWith('spoken/') ? 22_050 : 24_000;
  expect([24, 28].map((at) => wav.readUInt32LE(at))).toEqual([rateHz, 2 * rateHz]);
  expect(wav.readUInt32LE(40)).toBe(wav.length - 44);
});

test('together they are small', () => {
  const bytes = [...TONES, ...SPEECH].reduce((sum, name) => sum + readFileSync(join(SOUNDS_FOLDER, name)).length, 0);
  expect(bytes).toBeLessThan(6_000_000);
});

describe('the check of the files', () => {
  const folders: string[] = [];
  const written = async (): Promise<string> => {
    const folder = mkdtempSync(join(tmpdir(), 'sounds-'));
    folders.push(folder);
    await writeSounds(tones, folder);
    return folder;
  };

  afterEach(() => {
    for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
  });

  test('says nothing of what was just written', async () => {
    expect(await differences(tones, await written())).toEqual([]);
  });

  test('names a file with one bit changed, a missing one and one too many', async () => {
    const folder = await written();
    const changed = readFileSync(join(folder, 'exposure-end.wav'));
    changed.writeUInt8(changed.readUInt8(9000) ^ 1, 9000);
    writeFileSync(join(folder, 'exposure-end.wav'), changed);
    mkdirSync(join(folder, 'spoken'));
    copyFileSync(join(folder, 'infusion-end.wav'), join(folder, 'spoken/other.wav'));
    rmSync(join(folder, 'infusion-end.wav'));
    expect(await differences(tones, folder)).toEqual([
      'infusion-end.wav is missing: run "npm run sounds"',
      'exposure-end.wav is not what build/sounds.mjs makes: run "npm run sounds"',
      'spoken/other.wav is not made by build/sounds.mjs: take it away',
    ]);
  });

  test('what there is no longer goes away with the next writing', async () => {
    const folder = await written();
    copyFileSync(join(folder, 'late.wav'), join(folder, 'other.wav'));
    await writeSounds(tones, folder);
    expect(readdirSync(folder)).not.toContain('other.wav');
  });

  test('passes on every file that is kept, words too: they are made anew, byte for byte', { timeout: 600_000 }, () => {
    const { status, stderr } = spawnSync(process.execPath, [SCRIPT, '--check'], { encoding: 'utf8' });
    expect([status, stderr]).toEqual([0, '']);
  });

  test('writes nothing on a slip of its option', () => {
    expect(spawnSync(process.execPath, [SCRIPT, '--chek']).status).toBe(2);
  });
});

test('words are the same whatever was spoken before them', { timeout: 120_000 }, async () => {
  const [first, second] = files.filter(({ name }) => name.startsWith('spoken/fr/'));
  if (first === undefined || second === undefined) throw new Error('there are no words in French');
  const alone = await second.make();
  await first.make();
  expect(alone.equals(await second.make())).toBe(true);
});
