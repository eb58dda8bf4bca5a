import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { extractFile, listPackage, statFile } from '@electron/asar';
import { beforeAll, describe, expect, test } from 'vitest';
import { archiveOf, HAS_PACKAGING, MAKING_MS, packaged } from './packaged-app.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const { readFuses }: { readFuses: (program: string) => Promise<Record<string, string>> } = await import(
  resolve(ROOT, 'build/fuses.mjs')
);

describe.skipIf(!HAS_PACKAGING)('the two builds', () => {
  let release: string;
  let testBuild: string;

  beforeAll(() => {
    release = packaged('release');
    testBuild = packaged('test build');
  }, 2 * MAKING_MS);

  test('a release is closed to everything that could have it run something else', async () => {
    const fuses = await readFuses(release);
    expect(fuses).toMatchObject({
      RunAsNode: 'off',
      EnableNodeOptionsEnvironmentVariable: 'off',
      EnableNodeCliInspectArguments: 'off',
      OnlyLoadAppFromAsar: 'on',
    });
    // A fuse that this runtime has not got cannot be read back.
    expect(fuses.GrantFileProtocolExtraPrivileges ?? 'off').toBe('off');
    if (process.platform !== 'linux') expect(fuses.EnableEmbeddedAsarIntegrityValidation).toBe('on');
  });

  test('the build for tests differs from it by one fuse', async () => {
    const fuses = await readFuses(release);
    expect(await readFuses(testBuild)).toEqual({ ...fuses, EnableNodeCliInspectArguments: 'on' });
  });

  test('and by one word in its archive', () => {
    const [released, tested] = [contentsOf(archiveOf(release)), contentsOf(archiveOf(testBuild))];
    const differing = [...new Set([...released.keys(), ...tested.keys()])].filter(
      (path) => released.get(path) !== tested.get(path),
    );
    expect(differing).toEqual(['/package.json']);
    const { testBuild: said, ...rest } = manifestOf(testBuild);
    expect(said).toBe(true);
    expect(manifestOf(release)).toEqual(rest);
  });

  test('an archive holds the programs and the screens, and neither sources nor tests nor tools', () => {
    const paths = [...contentsOf(archiveOf(release)).keys()];
    for (const needed of ['/dist/shell/main.cjs', '/dist/shell/preload.cjs', '/dist/renderer/index.html']) {
      expect(paths).toContain(needed);
    }
    const tops = new Set(paths.map((path) => path.split('/').slice(1, 3).join('/')));
    expect([...tops].filter((top) => !top.startsWith('node_modules/')).sort()).toEqual([
      'dist/renderer',
      'dist/shell',
      'dist/station',
      'package.json',
    ]);
    expect(paths.filter((path) => /\.map$|\.d\.[mc]?ts$|electron-builder|vitest|playwright/.test(path))).toEqual([]);
  });

  test('what the station needs lies beside the archive as plain files', () => {
    const beside = `${archiveOf(release)}.unpacked`;
    for (const path of ['dist/station/main.mjs', 'node_modules/better-sqlite3/package.json', 'node_modules/pdfkit']) {
      expect(existsSync(resolve(beside, path)), path).toBe(true);
    }
  });

  test('the list of parts and the licences lie beside the program', () => {
    const { components } = JSON.parse(readFileSync(resolve(archiveOf(release), '../sbom.cdx.json'), 'utf8'));
    const licences = readFileSync(resolve(archiveOf(release), '../licences.txt'), 'utf8');
    for (const { name, version } of components) {
      if (name !== 'electron') expect(licences).toContain(`${name} ${version}: `);
    }
  });
});

const manifestOf = (program: string): Record<string, unknown> =>
  JSON.parse(extractFile(archiveOf(program), 'package.json').toString('utf8'));

/** Every file in an archive, or beside it where its header says so, by the hash of what is in it. */
function contentsOf(archive: string): Map<string, string> {
  const files = listPackage(archive, { isPack: false }).filter((path) => 'size' in statFile(archive, path.slice(1)));
  return new Map(files.map((path) => [path, hashOf(extractFile(archive, path.slice(1)))]));
}

const hashOf = (bytes: Buffer): string => createHash('sha256').update(bytes).digest('hex');
