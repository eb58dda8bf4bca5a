import { expect as expectShown } from 'playwright/test';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { expectCountedOn, expectCounting, readCount } from '../screens/count-check.ts';
import { sessionBefore } from '../screens/sent-commands.ts';
import { brokenAt, entriesIn, kindsIn } from '../station/independent-reading.ts';
import { type Desktop, desktop, HAS_DESKTOP, SOON } from './desktop.ts';

/** Slow enough that the infusion lasts through all of these. */
const SPEED = 5;

describe.skipIf(!HAS_DESKTOP)('while infusing on the desktop', () => {
  let desk: Desktop;

  beforeAll(async () => {
    desk = await desktop(SPEED);
    await sessionBefore(desk.console, 'begin-flush');
    await expectShown(desk.console.getByRole('heading', { level: 1 })).toHaveText('infusing');
  });
  afterAll(() => desk?.stop());

  const pages = () => [desk.console, ...(desk.board === null ? [] : [desk.board])];
  const silence = (page: (typeof desk)['console']) => page.getByText(/no word from the station since/).first();

  test('a station that is killed is started again: the screens say so, count on, and count right', async () => {
    const before = await Promise.all(pages().map(readCount));
    const killed = desk.stationPid();
    const told = pages().map((page) => silence(page).waitFor());
    process.kill(killed, 'SIGKILL');
    await Promise.all(told);
    for (const page of pages()) await expectCounting(page);
    for (const page of pages()) await expectShown(silence(page)).toBeHidden({ timeout: 20_000 });
    expect(desk.stationPid()).not.toBe(killed);
    for (const [index, page] of pages().entries()) {
      const reading = before[index];
      if (reading !== undefined) await expectCountedOn(page, reading, SPEED);
    }
    await expectShown(desk.console.getByRole('heading', { level: 1 })).toHaveText('infusing');
  });

  test('a station that hangs is told of, and the counts go on', async () => {
    process.kill(desk.stationPid(), 'SIGSTOP');
    for (const page of pages()) await silence(page).waitFor();
    for (const page of pages()) await expectCounting(page);
    process.kill(desk.stationPid(), 'SIGCONT');
    for (const page of pages()) await expectShown(silence(page)).toBeHidden({ timeout: 20_000 });
  });

  test.each(['console', 'board'])('a window that crashes shows the session again: the %s', async (name) => {
    if (desk.board === null && name === 'board') return;
    await desk.app.evaluate(({ webContents }, at) => {
      const page = webContents.getAllWebContents().find((one) => new URL(one.getURL()).pathname === at);
      page?.forcefullyCrashRenderer();
    }, `/${name}`);
    await expect.poll(() => crashesTold(desk), SOON).toContain(`${name} window failed`);
    await expect.poll(() => textOf(desk, `/${name}`), { timeout: 20_000 }).toMatch(/K-2041[\s\S]*to the light window/);
  });

  test('closing asks first, and stays when told to', async () => {
    await desk.answerClosing('stay');
    await askToClose(desk);
    await expect.poll(() => kindsIn(desk.ledgerFile).at(-1), SOON).toBe('closing-asked');
    expect(await textOf(desk, '/console')).toContain('infusing');
    expect(kindsIn(desk.ledgerFile)).not.toContain('closed');
  });

  test('closed all the same, the ledger says under what, and is whole', async () => {
    await desk.answerClosing('close');
    const closed = desk.app.waitForEvent('close');
    await askToClose(desk);
    await closed;
    const last = entriesIn(desk.ledgerFile).at(-1);
    expect(last?.kind).toBe('closed');
    expect(last?.payload.words).toBe('closed while under way: K-2041: infusing');
    expect(brokenAt(entriesIn(desk.ledgerFile))).toEqual([]);
  });
});

const crashesTold = ({ ledgerFile }: Desktop): string =>
  entriesIn(ledgerFile)
    .filter(({ kind }) => kind === 'window-crashed')
    .map(({ payload }) => payload.words)
    .join();

/** What stands in a window, by the shell: a page that has crashed no longer answers the test itself. */
const textOf = ({ app }: Desktop, path: string): Promise<string> =>
  app.evaluate(async ({ webContents }, at) => {
    const page = webContents.getAllWebContents().find((one) => new URL(one.getURL()).pathname === at);
    return page === undefined || page.isCrashed()
      ? ''
      : String(await page.executeJavaScript('document.body.innerText'));
  }, path);

const askToClose = ({ app }: Desktop): Promise<void> =>
  app.evaluate(({ BrowserWindow }) => {
    const windows = BrowserWindow.getAllWindows();
    windows.find((window) => new URL(window.webContents.getURL()).pathname === '/console')?.close();
  });
