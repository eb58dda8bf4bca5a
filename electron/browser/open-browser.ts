import { spawn } from 'node:child_process';

/** Asks the system to show an address. Where it cannot, that is said: the address has been printed. */
export function openBrowser(address: string): void {
  const [program, ...words] = opener(address);
  const child = spawn(program, words, { stdio: 'ignore', detached: true });
  const failed = (): void => console.error('no browser could be opened: open the first address by hand');
  child.once('error', failed);
  child.once('exit', (code) => {
    if (code !== 0) failed();
  });
  child.unref();
}

function opener(address: string): [string, ...string[]] {
  if (process.platform === 'darwin') return ['open', address];
  if (process.platform === 'win32') return ['cmd', '/c', 'start', '""', address];
  return ['xdg-open', address];
}
