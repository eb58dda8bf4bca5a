/**
 * What the runtime of a packaged app may do, set in the program file itself, where no variable and no flag can change it.
 * Source: Electron's documentation, "Electron Fuses".
 */
export const wantedFuses = ({ testBuild, platform }) => ({
  /** The program is never a bare Node. */
  RunAsNode: false,
  /** There are no cookies; with it, some systems ask for the keychain at every start. */
  EnableCookieEncryption: false,
  EnableNodeOptionsEnvironmentVariable: false,
  /** What tests drive the app by, and nobody else. */
  EnableNodeCliInspectArguments: testBuild,
  /** Linux has it not: there the package's own signature takes its place. */
  EnableEmbeddedAsarIntegrityValidation: platform !== 'linux',
  OnlyLoadAppFromAsar: true,
  /** There is no snapshot of our own. */
  LoadBrowserProcessSpecificV8Snapshot: false,
  GrantFileProtocolExtraPrivileges: false,
});

/**
 * Sets the fuses of a program file, and returns how it differs from what is wanted: fuses that this runtime lacks, since
 * it is older, and those that stay as Electron made them, since it is newer than what is decided here.
 */
export async function setFuses(program, wanted) {
  const { flipFuses, FuseV1Options, FuseVersion } = await import('@electron/fuses');
  const there = Object.keys(await readFuses(program));
  const lacking = Object.keys(wanted).filter((name) => !there.includes(name));
  const undecided = there.filter((name) => !(name in wanted));
  const settable = Object.entries(wanted).filter(([name]) => there.includes(name));
  await flipFuses(program, {
    version: FuseVersion.V1,
    strictlyRequireAllFuses: lacking.length + undecided.length === 0,
    resetAdHocDarwinSignature: process.platform === 'darwin' && process.arch === 'arm64',
    ...Object.fromEntries(settable.map(([name, on]) => [FuseV1Options[name], on])),
  });
  return { lacking, undecided };
}

const STATES = { 48: 'off', 49: 'on', 114: 'removed', 144: 'inherited' };

/** The fuses of a program file as they stand in it, by name: `on`, `off` or `removed`. */
export async function readFuses(program) {
  const { getCurrentFuseWire, FuseV1Options } = await import('@electron/fuses');
  const { version: _version, ...wire } = await getCurrentFuseWire(program);
  return Object.fromEntries(
    Object.entries(wire).map(([index, state]) => [FuseV1Options[index] ?? `fuse ${index}`, STATES[state] ?? 'unknown']),
  );
}
