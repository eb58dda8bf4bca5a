import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Desktop, SOON } from '../desktop/desktop.ts';
import { HAS_PACKAGING, MAKING_MS, startPackaged } from './packaged-app.ts';

const UNSAFE = [
  'nodeIntegrationInWorker',
  'allowRunningInsecureContent',
  'experimentalFeatures',
  'enableBlinkFeatures',
] as const;
/** Developer's tools are there well within this. */
const OPEN_MS = 1500;

describe.skipIf(!HAS_PACKAGING)('the windows of the packaged app', () => {
  let desk: Desktop;

  beforeAll(async () => {
    desk = await startPackaged({ words: ['--practice'] });
  }, MAKING_MS);
  afterAll(() => desk?.stop());

  const pages = () => [desk.console, ...(desk.board === null ? [] : [desk.board])];

  test('run isolated, in a sandbox, and without Node', async () => {
    const inForce = await desk.app.evaluate(({ BrowserWindow }) =>
      BrowserWindow.getAllWindows().map(({ webContents }) => {
        // As the window in fact runs; there, but not in Electron's types.
        const contents = webContents as unknown as { getLastWebPreferences(): Electron.WebPreferences };
        return contents.getLastWebPreferences();
      }),
    );
    expect(inForce).toHaveLength(pages().length);
    for (const one of inForce) {
      expect(one).toMatchObject({
        contextIsolation: true,
        sandbox: true,
        nodeIntegration: false,
        nodeIntegrationInSubFrames: false,
        webSecurity: true,
        webviewTag: false,
      });
      // Of these an Electron may tell only that they are on.
      for (const unsafe of UNSAFE) expect(one[unsafe] || false, unsafe).toBe(false);
    }
  });

  test('show no developer’s tools', async () => {
    await desk.app.evaluate(({ webContents }) => {
      for (const one of webContents.getAllWebContents()) one.openDevTools();
    });
    await desk.console.waitForTimeout(OPEN_MS);
    const opened = await desk.app.evaluate(({ webContents }) =>
      webContents.getAllWebContents().filter((one) => one.isDevToolsOpened()),
    );
    expect(opened).toEqual([]);
  });

  test('come with a policy that lets in the app’s own files and nothing else', async () => {
    for (const page of pages()) {
      const policy = await page.evaluate(async () =>
        (await fetch(location.href)).headers.get('content-security-policy'),
      );
      expect(policy?.split('; ').sort()).toEqual([
        "base-uri 'none'",
        "connect-src 'self'",
        "default-src 'none'",
        "font-src 'self'",
        "form-action 'none'",
        "frame-ancestors 'none'",
        "img-src 'self' data:",
        "media-src 'self'",
        "script-src 'self'",
        "style-src 'self'",
      ]);
    }
  });

  test('are granted nothing', async () => {
    for (const page of pages()) {
      const states = await page.evaluate(async () => {
        const names = ['geolocation', 'camera', 'microphone', 'notifications', 'midi', 'clipboard-read'] as const;
        const asked = names.map((name) => navigator.permissions.query({ name: name as PermissionName }));
        return (await Promise.all(asked)).map(({ state }) => state);
      });
      expect(new Set(states)).toEqual(new Set(['denied']));
    }
  });

  test('open no window and go nowhere', async () => {
    for (const page of pages()) {
      const address = page.url();
      expect(await page.evaluate(() => window.open('app://dimroom/ledger'))).toBeNull();
      for (const target of ['https://example.com/', 'file:///etc/hosts', 'app://dimroom/ledger']) {
        await page.evaluate((to) => location.assign(to), target);
      }
      await page.waitForTimeout(500);
      expect(await page.evaluate(() => location.href)).toBe(address);
    }
    expect(desk.app.windows()).toHaveLength(pages().length);
  });

  test.skipIf(process.platform === 'win32')('leave a report of a crash on this machine alone', async () => {
    const pid = await desk.app.evaluate(({ BrowserWindow }) =>
      BrowserWindow.getAllWindows().at(-1)?.webContents.getOSProcessId(),
    );
    process.kill(pid ?? 0, 'SIGSEGV');
    const folder = join(desk.folder, 'windows/crashes');
    const reports = (): string[] =>
      existsSync(folder)
        ? readdirSync(folder, { recursive: true })
            .map(String)
            .filter((path) => path.endsWith('.dmp'))
        : [];
    await expect.poll(reports, SOON).toHaveLength(1);
    expect(await desk.app.evaluate(({ crashReporter }) => crashReporter.getUploadToServer())).toBe(false);
  });
});
