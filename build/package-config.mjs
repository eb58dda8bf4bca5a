import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setFuses, wantedFuses } from './fuses.mjs';
import { shippedPackages } from './shipped-packages.mjs';

/** The program file in an unpacked app, where the fuses are. */
export const programIn = (folder, platform = process.platform) =>
  join(folder, { darwin: 'Dimroom.app', win32: 'Dimroom.exe' }[platform] ?? 'dimroom');

/**
 * How electron-builder makes a package of `dist/`.
 *
 * A build for tests differs from a release in two things: it can be driven through the inspector, and it heeds the
 * variable that names the station's Node (`electron/shell/release.ts`). It is never made into an installer.
 */
export const packageConfig = ({ testBuild, electronDist, electronVersion, output }) => ({
  appId: 'app.dimroom',
  productName: 'Dimroom',
  copyright: 'MIT licence',
  directories: { output, buildResources: 'assets/icon' },
  electronDist,
  electronVersion,
  // Nobody to publish to, and no update is looked for.
  publish: null,
  files: [
    'package.json',
    'dist/shell/*.cjs',
    'dist/station/*.mjs',
    'dist/renderer/**/*',
    '!**/*.map',
    ...shippedPackages().map((path) => ({ from: path, to: path, filter: filterOf(path) })),
  ],
  // What is bundled needs no packages, and what is not is named above, with its compiled part ready.
  beforeBuild: () => false,
  asar: true,
  // The station runs in a process of its own, whose Node loads native code and starts threads: from plain files.
  asarUnpack: ['dist/station/**', 'node_modules/**'],
  extraResources: [
    { from: 'dist/licences.txt', to: 'licences.txt' },
    { from: 'dist/sbom.cdx.json', to: 'sbom.cdx.json' },
  ],
  extraMetadata: {
    ...(testBuild ? { testBuild: true } : {}),
    // Some package forms ask for both; names under .invalid belong to nobody (RFC 2606).
    author: { name: 'the Dimroom contributors', email: 'contributors@dimroom.invalid' },
    homepage: 'https://dimroom.invalid/',
    desktopName: 'dimroom.desktop',
  },
  afterPack: ({ appOutDir, electronPlatformName }) => finish(appOutDir, electronPlatformName, testBuild),
  linux: {
    target: testBuild ? 'dir' : ['AppImage', 'deb'],
    executableName: 'dimroom',
    category: 'Science;MedicalSoftware',
    syncDesktopName: true,
  },
  win: { target: testBuild ? 'dir' : 'nsis' },
  mac: { target: testBuild ? 'dir' : 'dmg', category: 'public.app-category.medical' },
  // For every user of the station's machine; the ledger is not the program's to remove.
  nsis: { oneClick: false, perMachine: true, deleteAppDataOnUninstall: false },
});

/** Of a package, what runs: no maps, no types, nothing for browsers or for other systems. */
function filterOf(path) {
  const whole = ['**/*', '!**/*.{map,md,flow}', '!**/*.d.{ts,mts,cts}', '!**/{test,tests,example,examples}/**'];
  const parts = {
    'node_modules/better-sqlite3': ['package.json', 'LICENSE', 'lib/**', `prebuilds/${process.platform}-*.node`],
    'node_modules/bwip-js': ['package.json', 'LICENSE', 'dist/bwip-js-node.*js'],
    'node_modules/pdfkit': [
      'package.json',
      'LICENSE',
      'js/**',
      '!**/*.map',
      '!js/pdfkit.browser*',
      '!js/pdfkit.standalone*',
    ],
    'node_modules/@fontsource/b612': ['package.json', 'LICENSE', 'files/*.woff*'],
  };
  return parts[path] ?? whole;
}

async function finish(folder, platform, testBuild) {
  const program = programIn(folder, platform);
  const { lacking, undecided } = await setFuses(program, wantedFuses({ testBuild, platform }));
  for (const name of lacking) console.error(`this Electron is too old for the fuse ${name}: it is left out`);
  for (const name of undecided)
    console.error(`build/fuses.mjs does not decide on ${name}: it stays as Electron made it`);
  // What a bare Electron opens where no app is packed in.
  const resources = platform === 'darwin' ? join(program, 'Contents/Resources') : join(folder, 'resources');
  await rm(join(resources, 'default_app.asar'), { force: true });
}
