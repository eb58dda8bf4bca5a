import { createSocket } from 'node:dgram';
import { connect } from 'node:net';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Desktop, SOON } from '../desktop/desktop.ts';
import { sessionBefore } from '../screens/sent-commands.ts';
import { entriesIn } from '../station/independent-reading.ts';
import { answersTo, bentBridge, otherWindows, reachOfNode, reachOut, readBy, sendJunk } from './hostile-script.ts';
import { HAS_PACKAGING, killed, MAKING_MS, startPackaged } from './packaged-app.ts';
import { type Stranger, stranger } from './strangers.ts';

const FILES = [
  'file:///etc/hosts',
  'file:///proc/self/environ',
  'app://dimroom/../shell/main.cjs',
  'app://dimroom/%2e%2e/shell/main.cjs',
  'app://dimroom/..%2fshell%2fmain.cjs',
  'app://dimroom/package.json',
  'app://elsewhere/console',
];

/** Long enough for an attempt to arrive on the same machine. */
const ARRIVES_MS = 1500;

/** Script that somebody has got into a page runs as the page's own, whatever the page's policy says about scripts. */
describe.skipIf(!HAS_PACKAGING)('hostile script in a page', () => {
  let desk: Desktop;
  let outside: Stranger;

  beforeAll(async () => {
    outside = await stranger();
    desk = await startPackaged({ words: ['--practice', '--speed', '5'] });
    await sessionBefore(desk.console, 'begin-flush');
  }, MAKING_MS);
  afterAll(async () => {
    if (desk !== undefined) await killed(desk);
    await outside?.stop();
  });

  const pages = (): (readonly [string, Page])[] => [
    ['console', desk.console],
    ...(desk.board === null ? [] : [['board', desk.board] as const]),
  ];

  test('finds no Node and nothing of Electron, not by the bridge either', async () => {
    for (const [name, page] of pages()) expect(await page.evaluate(reachOfNode), name).toEqual([]);
  });

  test('cannot put another bridge in place of the one that is there', async () => {
    for (const [name, page] of pages()) expect(await page.evaluate(bentBridge), name).toBe('as it was');
  });

  test('reads no file, by no way that a page has', async () => {
    for (const [name, page] of pages()) {
      for (const address of FILES) expect(await page.evaluate(readBy, address), `${name}: ${address}`).toEqual([]);
    }
  });

  test('reads its own page by the same ways', async () => {
    for (const [name, page] of pages()) {
      expect(await page.evaluate(readBy, 'app://dimroom/console'), name).toContain('fetch');
    }
  });

  test('reaches nobody outside, by no way that a page has', async () => {
    const before = outside.heard();
    for (const [, page] of pages()) await page.evaluate(reachOut, outside.port);
    await desk.console.waitForTimeout(ARRIVES_MS);
    expect(outside.heard() - before).toBe(0);
    for (const [name, page] of pages()) expect(new URL(page.url()).pathname).toBe(`/${name}`);
  });

  test('whoever may reach out is heard there', async () => {
    const before = outside.heard();
    connect(outside.port, '127.0.0.1').on('error', () => {});
    const packet = createSocket('udp4');
    packet.send('x', outside.port, '127.0.0.1', () => packet.close());
    await expect.poll(() => outside.heard() - before, SOON).toBe(2);
  });

  test('has no name looked up, which would tell a server of its own', async () => {
    const looked = await desk.app.evaluate(({ session }) =>
      session.defaultSession.resolveHost('localhost').then(
        () => 'found',
        () => 'not found',
      ),
    );
    expect(looked).toBe('not found');
  });

  test('gets at no window but its own: none it opens, none within it, none beside it', async () => {
    for (const [name, page] of pages()) expect(await page.evaluate(otherWindows), name).toEqual([]);
    expect(desk.app.windows()).toHaveLength(pages().length);
  });

  test('on the board cannot do what the console may', async () => {
    if (desk.board === null) return;
    expect(await desk.board.evaluate(() => window.dimroom?.swapDisplays?.())).toBe('only the console may ask for that');
  });

  test('changes nothing by messages that are none, are bent or are far too long', async () => {
    const before = commandsIn(desk.ledgerFile);
    for (const [name, page] of pages()) {
      const told = await page.evaluate(sendJunk);
      expect(told.sent, name).toBeGreaterThan(0);
      await expect.poll(() => page.evaluate(() => document.body.textContent), SOON).toContain('to the light window');
    }
    expect(commandsIn(desk.ledgerFile)).toEqual(before);
    expect(await desk.app.evaluate(() => Object.keys(Object.prototype))).toEqual([]);
  });

  test('is told so, and the session goes on', async () => {
    for (const [name, page] of pages()) {
      const answers = await page.evaluate(answersTo, ['x'.repeat(70_000), 7, { type: 'open-all-doors' }]);
      expect(answers, name).toEqual([
        expect.stringContaining('longer than 64 KiB'),
        expect.stringContaining('nothing has changed'),
        expect.stringContaining('nothing has changed'),
      ]);
    }
  });
});

/** What people entered, as the file has it. */
const commandsIn = (file: string): string[] =>
  entriesIn(file)
    .filter(({ author }) => author.role !== 'station')
    .map(({ kind }) => kind);
