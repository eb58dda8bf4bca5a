import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

interface Component {
  readonly name: string;
  readonly version: string;
  readonly licenses?: readonly { readonly license?: { readonly id: string }; readonly expression?: string }[];
}
interface Part {
  readonly path: string;
  readonly component: Component;
}

const {
  refusedLicences,
  statedLicences,
}: {
  refusedLicences: (parts: readonly Part[]) => string[];
  statedLicences: (component: Component) => Component;
} = await import(resolve(ROOT, 'build/licences.mjs'));
const { writeSbom }: { writeSbom: () => string[] } = await import(resolve(ROOT, 'build/sbom.mjs'));
const { shippedPackages }: { shippedPackages: () => string[] } = await import(
  resolve(ROOT, 'build/shipped-packages.mjs')
);

const partUnder = (...licenses: NonNullable<Component['licenses']>): Part => ({
  path: 'node_modules/some-package',
  component: { name: 'some-package', version: '1.0.0', licenses },
});

describe('a package', () => {
  test.each([
    ['a licence that lets it be passed on', { license: { id: 'MIT' } }],
    ['a choice of which one does', { expression: '(GPL-3.0-only OR MIT)' }],
  ])('is taken in under %s', (_name, named) => {
    expect(refusedLicences([partUnder(named)])).toEqual([]);
  });

  test.each([
    ['a licence that is not on the list', { license: { id: 'GPL-3.0-only' } }, /is under GPL-3\.0-only/],
    ['two licences at once, of which one is not', { expression: 'MIT AND GPL-3.0-only' }, /is under MIT AND GPL/],
    ['a licence in a file of its own', { license: { id: 'SEE LICENSE IN EULA' } }, /is under SEE LICENSE/],
  ])('is refused under %s, with what to do', (_name, named, sentence) => {
    const [refused] = refusedLicences([partUnder(named)]);
    expect(refused).toMatch(sentence);
    expect(refused).toMatch(/read node_modules\/some-package, then decide in build\/licences\.mjs$/);
  });

  test('that names no licence is refused', () => {
    const component = { name: 'some-package', version: '1.0.0' };
    expect(refusedLicences([{ path: 'x', component }])).toEqual([expect.stringMatching(/names no licence/)]);
    expect(statedLicences(component)).toEqual(component);
  });

  test('whose licence file was read is taken in at that very version', () => {
    const read = { name: 'png-js', version: '2.0.0' };
    expect(statedLicences(read).licenses).toEqual([{ license: { id: 'MIT' } }]);
    expect(statedLicences({ ...read, version: '2.0.1' }).licenses).toBeUndefined();
    expect(readFileSync(join(ROOT, 'node_modules/png-js/LICENSE'), 'utf8')).toMatch(/^MIT License/);
  });
});

describe('the list of what a package is made of', () => {
  let names: Set<string>;

  beforeAll(() => {
    writeSbom();
    names = new Set(listed().components.map(({ name, version }) => `${name}@${version}`));
  });

  test('has every package that was bundled into the programs', () => {
    const bundled = ['shell', 'station'].flatMap((folder) => packagesInMaps(join(ROOT, 'dist', folder)));
    expect(bundled).toContain('zod');
    expect(bundled.filter((name) => ![...names].some((one) => one.startsWith(`${name}@`)))).toEqual([]);
  });

  test('has every package that lies beside them', () => {
    for (const path of shippedPackages()) {
      const { name, version } = JSON.parse(readFileSync(join(ROOT, path, 'package.json'), 'utf8'));
      expect(names).toContain(`${name}@${version}`);
    }
  });

  test('has the runtime, and no tool of development', () => {
    expect([...names].some((one) => one.startsWith('electron@'))).toBe(true);
    for (const tool of ['vitest', 'playwright', 'typescript', 'electron-builder']) {
      expect([...names].filter((one) => one.startsWith(`${tool}@`))).toEqual([]);
    }
  });

  test('points to nothing that is not in it', () => {
    const { components, dependencies, metadata } = listed();
    const refs = new Set([metadata.component['bom-ref'], ...components.map((one) => one['bom-ref'])]);
    expect(dependencies.flatMap(({ ref, dependsOn }) => [ref, ...dependsOn]).filter((ref) => !refs.has(ref))).toEqual(
      [],
    );
    expect(new Set(dependencies.map(({ ref }) => ref))).toEqual(refs);
  });

  test('is the same each time', () => {
    const first = readFileSync(join(ROOT, 'dist/sbom.cdx.json'), 'utf8');
    writeSbom();
    expect(readFileSync(join(ROOT, 'dist/sbom.cdx.json'), 'utf8')).toBe(first);
  });
});

interface Listed {
  readonly metadata: { readonly component: { readonly 'bom-ref': string } };
  readonly components: readonly (Component & { readonly 'bom-ref': string })[];
  readonly dependencies: readonly { readonly ref: string; readonly dependsOn: readonly string[] }[];
}

const listed = (): Listed => JSON.parse(readFileSync(join(ROOT, 'dist/sbom.cdx.json'), 'utf8'));

/** Names of the packages whose files went into the programs in a folder, as the bundler's own maps have it. */
function packagesInMaps(folder: string): string[] {
  const maps = readdirSync(folder).filter((name) => name.endsWith('.map'));
  const sources = maps.flatMap((name): string[] => JSON.parse(readFileSync(join(folder, name), 'utf8')).sources);
  const found = sources.flatMap((source) => /.*node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(source)?.[1] ?? []);
  return [...new Set(found)];
}
