import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Desktop, desktop, HAS_DESKTOP, SOON } from './desktop.ts';

describe.skipIf(!HAS_DESKTOP)('the windows', () => {
  let desk: Desktop;

  beforeAll(async () => {
    desk = await desktop();
  });
  afterAll(() => desk?.stop());

  const pages = () => [desk.console, ...(desk.board === null ? [] : [desk.board])];

  test('stand where they are looked at: the console on the primary display, the board filling the second', async () => {
    const displays = await desk.app.evaluate(({ screen }) => {
      const { id } = screen.getPrimaryDisplay();
      return screen.getAllDisplays().map((display) => ({ bounds: display.bounds, primary: display.id === id }));
    });
    const second = displays.find(({ primary }) => !primary);
    const filling = second && { path: '/board', bounds: second.bounds, full: true };
    await expect.poll(async () => (await places(desk)).find(({ path }) => path === '/board'), SOON).toEqual(filling);

    const home = displays.find(({ primary }) => primary)?.bounds;
    const { x, y } = (await places(desk)).find(({ path }) => path === '/console')?.bounds ?? { x: -1, y: -1 };
    const within =
      home !== undefined && x >= home.x && x < home.x + home.width && y >= home.y && y < home.y + home.height;
    expect(within).toBe(true);
    const words = second === undefined ? 'no second monitor' : 'board on second monitor';
    await desk.console.getByText(words).waitFor();
  });

  test('run apart from the system: isolated, in a sandbox, without Node', async () => {
    const preferences = await desk.app.evaluate(({ BrowserWindow }) =>
      BrowserWindow.getAllWindows().map((window) => {
        // As the window in fact runs; there, but not in Electron's types.
        const contents = window.webContents as unknown as { getLastWebPreferences(): Electron.WebPreferences };
        const { contextIsolation, sandbox, nodeIntegration, webSecurity, webviewTag } =
          contents.getLastWebPreferences();
        return { contextIsolation, sandbox, nodeIntegration, webSecurity, webviewTag };
      }),
    );
    expect(preferences).toHaveLength(pages().length);
    const secure = {
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webSecurity: true,
      webviewTag: false,
    };
    for (const one of preferences) expect(one).toEqual(secure);
  });

  test('a page reaches the station by one object, and nothing else of the system', async () => {
    for (const page of pages()) {
      const found = await page.evaluate(() => ({
        bridge: Object.keys(window.dimroom ?? {}).sort(),
        carrier: window.dimroom?.carrier,
        reach: ['require', 'process', 'module', 'Buffer', 'global', 'electron', 'ipcRenderer'].filter(
          (name) => name in window,
        ),
      }));
      expect(found).toEqual({
        bridge: ['carrier', 'onBoard', 'onLink', 'onMessage', 'send', 'swapDisplays'],
        carrier: 'desktop',
        reach: [],
      });
    }
  });

  test('a script that is written into a page does not run', async () => {
    for (const page of pages()) {
      const ran = await page.evaluate(() => {
        const script = document.createElement('script');
        script.textContent = 'document.documentElement.dataset.ran = "yes"';
        document.head.append(script);
        return document.documentElement.dataset.ran;
      });
      expect(ran).toBeUndefined();
    }
  });

  test('no page opens a window', async () => {
    for (const page of pages()) {
      expect(await page.evaluate(() => window.open('app://dimroom/ledger') === null)).toBe(true);
    }
    expect(desk.app.windows()).toHaveLength(pages().length);
  });

  test('no page goes elsewhere', async () => {
    for (const target of ['https://example.com/', 'app://dimroom/ledger', 'file:///etc/hosts']) {
      const went = await desk.app.evaluate(async ({ BrowserWindow }, to) => {
        const contents = BrowserWindow.getAllWindows().map((window) => window.webContents);
        const page = contents.find((one) => new URL(one.getURL()).pathname === '/console');
        if (page === undefined) return 'no console';
        const prevented = new Promise<boolean>((tell) => {
          page.once('will-navigate', (event) => tell(event.defaultPrevented));
          // The system refuses some by itself, before anybody is asked.
          page.once('console-message', () => tell(true));
        });
        await page.executeJavaScript(`location.href = ${JSON.stringify(to)}; 0`);
        return (await prevented) ? new URL(page.getURL()).pathname : 'elsewhere';
      }, target);
      expect(went, target).toBe('/console');
    }
  });

  test('no page is granted anything', async () => {
    for (const page of pages()) {
      const granted = await page.evaluate(async () => ({
        notifications: await Notification.requestPermission(),
        geolocation: (await navigator.permissions.query({ name: 'geolocation' })).state,
        camera: await navigator.mediaDevices.getUserMedia({ video: true }).then(
          () => 'granted',
          () => 'denied',
        ),
      }));
      expect(granted).toEqual({ notifications: 'denied', geolocation: 'denied', camera: 'denied' });
    }
  });
});

/** Where each window is, by what it shows. */
const places = ({ app }: Desktop) =>
  app.evaluate(({ BrowserWindow }) =>
    BrowserWindow.getAllWindows().map((window) => ({
      path: new URL(window.webContents.getURL()).pathname,
      bounds: window.getBounds(),
      full: window.isFullScreen(),
    })),
  );
