import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type Desktop, placeOf, SOON } from '../desktop/desktop.ts';
import { kindsIn } from '../station/independent-reading.ts';
import { executableOf, HAS_PACKAGING, MAKING_MS, newDataFolder, packaged, startPackaged } from './packaged-app.ts';

describe.skipIf(!HAS_PACKAGING)('a site that wants a kiosk that starts at login', () => {
  let desk: Desktop | null = null;
  let config: string;

  beforeEach(() => {
    config = mkdtempSync(join(tmpdir(), 'dimroom-config-'));
  });
  afterEach(async () => {
    await desk?.stop();
    desk = null;
    rmSync(config, { recursive: true });
  });

  const autostart = (): string => join(config, 'autostart/dimroom.desktop');

  const startWith = async (settings: object, words: readonly string[] = []): Promise<Desktop> => {
    const folder = newDataFolder();
    writeFileSync(join(folder, 'settings.json'), JSON.stringify(settings));
    desk = await startPackaged({ words, folder, variables: { XDG_CONFIG_HOME: config } });
    return desk;
  };

  test('has both windows fill their displays', { timeout: MAKING_MS }, async () => {
    const kiosk = await startWith({ kiosk: true });
    const displays = await kiosk.app.evaluate(({ screen }) => screen.getAllDisplays().map(({ bounds }) => bounds));
    await expect.poll(async () => (await placeOf(kiosk, '/console'))?.full, SOON).toBe(true);
    for (const path of kiosk.board === null ? ['/console'] : ['/console', '/board']) {
      await expect.poll(async () => (await placeOf(kiosk, path))?.bounds, SOON).toBeOneOf(displays);
    }
    expect(await isKiosk(kiosk)).toBe(true);
  });

  test('leaves it by the key to quit, as it leaves any window', { timeout: MAKING_MS }, async () => {
    const kiosk = await startWith({ kiosk: true });
    await expect.poll(() => isKiosk(kiosk), SOON).toBe(true);
    const closed = kiosk.app.waitForEvent('close');
    // By the shell: keys that come through the inspector pass the shell by.
    await kiosk.app
      .evaluate(({ BrowserWindow }) => {
        const modifiers: ('meta' | 'control')[] = [process.platform === 'darwin' ? 'meta' : 'control'];
        const contents = BrowserWindow.getAllWindows().map(({ webContents }) => webContents);
        const page = contents.find((one) => new URL(one.getURL()).pathname === '/console');
        page?.sendInputEvent({ type: 'keyDown', keyCode: 'Q', modifiers });
      })
      .catch(() => {});
    await closed;
    expect(kindsIn(kiosk.ledgerFile).at(-1)).toBe('closed');
  });

  test('without it, the console leaves the system its own bars', { timeout: MAKING_MS }, async () => {
    const plain = await startWith({ kiosk: false });
    await expect.poll(() => isShown(plain), SOON).toBe(true);
    expect(await isKiosk(plain)).toBe(false);
  });

  test.skipIf(process.platform !== 'linux')(
    'is started by the desktop at login, with the same data folder, until it no longer wants it',
    { timeout: MAKING_MS },
    async () => {
      const first = await startWith({ startAtLogin: true });
      await expect.poll(() => existsSync(autostart()), SOON).toBe(true);
      const program = executableOf(packaged('test build'));
      expect(readFileSync(autostart(), 'utf8')).toContain(`\nExec="${program}" "--data" "${first.folder}"\n`);
      await first.close();
      writeFileSync(join(first.folder, 'settings.json'), '{}');
      desk = await startPackaged({ folder: first.folder, variables: { XDG_CONFIG_HOME: config } });
      await expect.poll(() => existsSync(autostart()), SOON).toBe(false);
    },
  );

  test('practice is started by hand', { timeout: MAKING_MS }, async () => {
    const practice = await startWith({ kiosk: true, startAtLogin: true }, ['--practice']);
    // The kiosk and the start at login are heard of together.
    await expect.poll(() => isKiosk(practice), SOON).toBe(true);
    expect(existsSync(autostart())).toBe(false);
  });
});

const isKiosk = ({ app }: Desktop): Promise<boolean | undefined> =>
  app.evaluate(({ BrowserWindow }) =>
    BrowserWindow.getAllWindows()
      .find(({ webContents }) => new URL(webContents.getURL()).pathname === '/console')
      ?.isKiosk(),
  );

const isShown = ({ app }: Desktop): Promise<boolean> =>
  app.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().every((window) => window.isVisible()));
