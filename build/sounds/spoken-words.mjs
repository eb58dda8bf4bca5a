import { join } from 'node:path';
import { build } from 'esbuild';
import { ROOT } from '../node-runtime.mjs';

/** Everything that is spoken, from the table of cues: a language, the name of the file, the words. */
export async function spokenWords() {
  const { CUE_TABLE, SIGNALS_SPOKEN } = await cueTable();
  const spoken = [...Object.entries(SIGNALS_SPOKEN), ...Object.entries(CUE_TABLE).map(([id, row]) => [id, row.spoken])];
  const languages = Object.keys(SIGNALS_SPOKEN.late);
  return languages.flatMap((language) => spoken.map(([id, words]) => ({ language, id, words: words[language] })));
}

/** The table is TypeScript, and the oldest Node this runs on reads none. */
async function cueTable() {
  const { outputFiles } = await build({
    entryPoints: [join(ROOT, 'core/procedure/cue-table.ts')],
    bundle: true,
    format: 'esm',
    write: false,
  });
  return import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].text).toString('base64')}`);
}
