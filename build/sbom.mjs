import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { runtimeVersion } from './electron-runtime-version.mjs';
import { refusedLicences, statedLicences } from './licences.mjs';
import { ROOT } from './node-runtime.mjs';
import { ready } from './ready.mjs';

const SBOM = 'dist/sbom.cdx.json';
const LICENCES = 'dist/licences.txt';

/**
 * Writes the list of what a package is made of (CycloneDX 1.5) and its licences with their texts.
 *
 * @returns what was written, as paths from the project.
 * @throws Error where a licence is unknown or not allowed, or npm cannot list the packages.
 */
export function writeSbom() {
  const parts = shippedParts();
  const refused = refusedLicences(parts);
  if (refused.length > 0) throw new Error(refused.join('\n'));
  mkdirSync(join(ROOT, 'dist'), { recursive: true });
  writeFileSync(join(ROOT, SBOM), `${JSON.stringify(bom(parts), null, 2)}\n`);
  writeFileSync(join(ROOT, LICENCES), licenceList(parts));
  return [SBOM, LICENCES];
}

/**
 * Every package that is no mere tool of development, by its component in npm's own list. npm is asked for all of them:
 * with `--omit=dev` it forgets what a tool needs as well.
 */
function shippedParts() {
  const listed = npmSbom();
  const byName = new Map(listed.components.map((component) => [`${component.name}@${component.version}`, component]));
  const { packages } = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8'));
  const shipped = Object.entries(packages).filter(([path, { dev }]) => path !== '' && dev !== true);
  return shipped.map(([path, { version }]) => {
    const name = path.split('node_modules/').at(-1);
    const component = byName.get(`${name}@${version}`);
    if (component === undefined) throw new Error(`npm does not list ${name}@${version}: run npm ci`);
    const dependsOn = listed.dependencies.find(({ ref }) => ref === component['bom-ref'])?.dependsOn ?? [];
    return { path, dependsOn, component: statedLicences({ ...component, properties: [] }) };
  });
}

function npmSbom() {
  const { status, stdout, stderr } = spawnSync('npm', ['sbom', '--sbom-format=cyclonedx'], {
    cwd: ROOT,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
    shell: process.platform === 'win32',
  });
  if (status !== 0) throw new Error(`"npm sbom" failed; npm ci may mend it\n${stderr ?? ''}`);
  return JSON.parse(stdout);
}

/** Without a serial number and a time, so that the same packages give the same bytes. */
function bom(parts) {
  const { name, version, description, license } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  const self = `${name}@${version}`;
  const refs = new Set(parts.map(({ component }) => component['bom-ref']));
  const electron = runtime();
  return {
    $schema: 'http://cyclonedx.org/schema/bom-1.5.schema.json',
    bomFormat: 'CycloneDX',
    specVersion: '1.5',
    version: 1,
    metadata: {
      component: {
        'bom-ref': self,
        type: 'application',
        name,
        version,
        description,
        licenses: [{ license: { id: license } }],
      },
    },
    components: [...parts.map(({ component }) => component), electron],
    dependencies: [
      { ref: self, dependsOn: [...directNeeds(parts), electron['bom-ref']] },
      ...parts.map(({ component, dependsOn }) => ({
        ref: component['bom-ref'],
        dependsOn: dependsOn.filter((ref) => refs.has(ref)),
      })),
      { ref: electron['bom-ref'], dependsOn: [] },
    ],
  };
}

function directNeeds(parts) {
  const { dependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  const direct = parts.filter(({ path }) => path.slice('node_modules/'.length) in dependencies);
  return direct.map(({ component }) => component['bom-ref']);
}

/** npm sees it as a tool; it is what a package mostly consists of. */
function runtime() {
  const version = runtimeVersion();
  return {
    'bom-ref': `electron@${version}`,
    type: 'framework',
    name: 'electron',
    version,
    scope: 'required',
    description:
      'The runtime, with Chromium and Node in it; their own notices are in LICENSES.chromium.html beside it.',
    purl: `pkg:npm/electron@${version}`,
    licenses: [{ license: { id: 'MIT' } }],
  };
}

function licenceList(parts) {
  const listed = parts.map(({ path, component: { name, version, licenses } }) => {
    const named = licenses.map(({ license, expression }) => expression ?? license.id).join(', ');
    return `${name} ${version}: ${named}\n\n${licenceText(path)}\n`;
  });
  return [INTRODUCTION, ...listed].join(`\n${'-'.repeat(80)}\n\n`);
}

const INTRODUCTION = `Dimroom is under the MIT licence. It is built with the packages below, each under its own.
Electron (MIT) and Chromium bring their notices in files of their own: LICENSE.electron.txt and LICENSES.chromium.html.
`;

function licenceText(path) {
  const folder = join(ROOT, path);
  const texts = readdirSync(folder).filter((file) => /^(licen[cs]e|copying|notice)/i.test(file));
  if (texts.length > 0) return texts.map((file) => readFileSync(join(folder, file), 'utf8').trim()).join('\n\n');
  const { author } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const by = typeof author === 'string' ? author : author?.name;
  return `The package brings no text of it.${by === undefined ? '' : ` By ${by.replace(/ *<.*>/, '')}.`}`;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  ready();
  try {
    for (const path of writeSbom()) console.log(path);
  } catch (error) {
    console.error(error.message);
    process.exitCode = 1;
  }
}
