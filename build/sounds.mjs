import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { speechWav } from './sounds/speech.mjs';
import { spokenWords } from './sounds/spoken-words.mjs';
import { toneWav } from './sounds/tone.mjs';
import { TONE_TABLE } from './sounds/tone-table.mjs';

/** Where the sounds are kept. */
export const SOUNDS_FOLDER = fileURLToPath(new URL('../assets/sounds/', import.meta.url));

/** Every file there is, by its name in the folder, and how its bytes are made. */
export async function soundFiles() {
  const tones = TONE_TABLE.map((row) => ({ name: `${row.id}.wav`, make: () => toneWav(row) }));
  const speech = (await spokenWords()).map((spoken) => ({
    name: `spoken/${spoken.language}/${spoken.id}.wav`,
    make: () => speechWav(spoken),
  }));
  return [...tones, ...speech];
}

/** Writes every sound into a folder, and takes away those that there are no longer. */
export async function writeSounds(files, folder = SOUNDS_FOLDER) {
  for (const { name, make } of files) {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, await make());
  }
  for (const name of strays(files, folder)) rmSync(join(folder, name));
}

/** Everything in a folder that is not what this script makes, a sentence each. */
export async function differences(files, folder = SOUNDS_FOLDER) {
  const sentences = [];
  for (const { name, make } of files) {
    const path = join(folder, name);
    if (!existsSync(path)) sentences.push(`${name} is missing: run "npm run sounds"`);
    else if (!(await make()).equals(readFileSync(path)))
      sentences.push(`${name} is not what build/sounds.mjs makes: run "npm run sounds"`);
  }
  const unknown = strays(files, folder).map((name) => `${name} is not made by build/sounds.mjs: take it away`);
  return [...sentences, ...unknown];
}

function strays(files, folder) {
  const made = files.map(({ name }) => name);
  const kept = existsSync(folder)
    ? readdirSync(folder, { recursive: true }).map((name) => name.replaceAll(sep, '/'))
    : [];
  return kept.filter((name) => name.endsWith('.wav') && !made.includes(name)).sort();
}

/** Runs the command. Returns its exit status. */
async function run(words) {
  if (words.length > 1 || (words.length === 1 && words[0] !== '--check')) {
    console.error('Use: node build/sounds.mjs [--check]');
    return 2;
  }
  const files = await soundFiles();
  if (words.length === 0) {
    await writeSounds(files);
    console.error(`${files.length} sounds are written`);
    return 0;
  }
  const sentences = await differences(files);
  for (const sentence of sentences) console.error(sentence);
  return sentences.length === 0 ? 0 : 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) process.exitCode = await run(process.argv.slice(2));
