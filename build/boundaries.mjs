import { readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { filesAt } from './files-at.mjs';
import { ROOT } from './node-runtime.mjs';

/** The only packages the domain may lean on. */
const CORE_PACKAGES = ['xstate', 'zod', 'canonicalize'];
/** Packages that belong to one folder; tests may use any of them. */
const HOMES = {
  electron: 'electron/shell',
  react: 'renderer',
  'react-dom': 'renderer',
  'better-sqlite3': 'electron/station',
};

/** Every import that crosses a line it may not cross, as a sentence. Imports of types count too. */
export async function crossings(root = ROOT) {
  const imports = await importsOf(sourcesIn(root), root);
  return imports.flatMap(({ file, path }) => {
    const why = path.startsWith('.') ? whyNotFile(file, path, root) : whyNotPackage(file, packageOf(path));
    return why === null ? [] : [`${file} imports "${path}": ${why}`];
  });
}

const sourcesIn = (root) =>
  ['core', 'electron', 'renderer']
    .flatMap((folder) => filesAt(join(root, folder)))
    .filter((file) => /\.tsx?$/.test(file));

function whyNotFile(file, path, root) {
  const target = relative(root, resolve(root, file, '..', path)).replaceAll('\\', '/');
  const from = worldOf(file);
  const to = worldOf(target);
  if (from === to || to === 'core' || (from === 'renderer' && to === 'assets')) return null;
  if (from === 'core') return 'core knows nothing outside itself';
  if (from === 'renderer' || to === 'renderer') return 'screens and other processes share only core';
  if (to === 'electron/shell' || to === 'electron/browser') return 'a carrier is imported by nobody';
  return null;
}

function whyNotPackage(file, name) {
  if (worldOf(file) === 'core') {
    return CORE_PACKAGES.includes(name) ? null : `core may import only ${CORE_PACKAGES.join(', ')}`;
  }
  const home = HOMES[name];
  return home === undefined || worldOf(file) === home ? null : `only ${home} may import ${name}`;
}

/** The folder that says in which world a file runs. */
const worldOf = (file) =>
  file
    .split(/[\\/]/)
    .slice(0, file.startsWith('electron') ? 2 : 1)
    .join('/');

const packageOf = (path) =>
  path
    .split('/')
    .slice(0, path.startsWith('@') ? 2 : 1)
    .join('/');

/** All imports of the files as esbuild's own parser sees them; each file by itself, so that nothing is resolved. */
async function importsOf(files, root) {
  const { build } = await import('esbuild');
  const found = [];
  await build({
    absWorkingDir: root,
    entryPoints: files,
    outdir: 'nowhere',
    bundle: true,
    write: false,
    logLevel: 'silent',
    format: 'esm',
    jsx: 'automatic',
    tsconfigRaw: { compilerOptions: { verbatimModuleSyntax: true } },
    plugins: [{ name: 'imports', setup: (plugin) => listen(plugin, root, found) }],
  });
  return found;
}

function listen(plugin, root, found) {
  plugin.onResolve({ filter: /.*/ }, ({ path, importer, kind }) => {
    if (kind === 'entry-point') return undefined;
    found.push({ file: relative(root, importer).replaceAll('\\', '/'), path });
    return { path, external: true };
  });
  // Types vanish before imports are listed: an import of types is read as one of values.
  plugin.onLoad({ filter: /\.tsx?$/ }, ({ path }) => ({
    contents: readFileSync(path, 'utf8').replaceAll(/^import type\b|^export type(?= *[{*])/gm, (words) =>
      words.slice(0, 6),
    ),
    loader: path.endsWith('x') ? 'tsx' : 'ts',
  }));
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const sentences = await crossings(process.argv[2] === undefined ? ROOT : resolve(process.argv[2]));
  for (const sentence of sentences) console.error(sentence);
  process.exitCode = sentences.length === 0 ? 0 : 1;
}
