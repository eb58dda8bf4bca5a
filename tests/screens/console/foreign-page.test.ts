import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type Browser, type BrowserContext, chromium } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';

/** A name that an attacker's name server points at this machine, once the page is loaded. */
const REBOUND = 'console.example';

/** What a page got by trying; each is a text, `nothing` where it got nothing. */
type Got = Readonly<Record<string, string>>;

describe.skipIf(CHROMIUM === null)('a page that is not ours, in the browser that has our cookie', () => {
  const screens = carriedScreens(60);
  let foreign: Server;
  let browser: Browser;
  let context: BrowserContext;

  beforeAll(async () => {
    foreign = createServer((_request, response) => {
      response.setHeader('Content-Type', 'text/html');
      response.end('<!doctype html><title>a page of somebody else</title>');
    });
    await new Promise<void>((resolve) => foreign.listen(0, '127.0.0.1', resolve));
    browser = await chromium.launch({
      args: ['--no-sandbox', `--host-resolver-rules=MAP ${REBOUND} 127.0.0.1`],
      ...(CHROMIUM === null ? {} : { executablePath: CHROMIUM }),
    });
    context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(screens.carrier().console);
    await page.getByText('no session').first().waitFor();
  });

  afterAll(async () => {
    await browser?.close();
    foreign?.close();
  });

  const ours = (): string => new URL(screens.carrier().console).origin;
  const foreignPort = (): number => (foreign.address() as AddressInfo).port;

  /** Everything a page can try without a person's help. */
  async function tryAll(from: string): Promise<Got> {
    const page = await context.newPage();
    await page.goto(from);
    return page.evaluate(async (origin): Promise<Got> => {
      const within = <Value>(promise: Promise<Value>): Promise<Value | 'nothing'> =>
        Promise.race([promise, new Promise<'nothing'>((resolve) => setTimeout(resolve, 3_000, 'nothing'))]);
      const read = (mode: RequestMode): Promise<string> =>
        fetch(`${origin}/console`, { mode, credentials: 'include' }).then(
          async (response) => (await response.text()) || 'nothing',
          () => 'nothing',
        );
      const element = (tag: 'script' | 'img' | 'link', address: string): Promise<string> =>
        new Promise((resolve) => {
          const made = document.createElement(tag);
          made.onload = () => resolve(`${tag} loaded`);
          made.onerror = () => resolve('nothing');
          if (made instanceof HTMLLinkElement) Object.assign(made, { rel: 'stylesheet', href: address });
          else made.src = address;
          document.head.append(made);
        });
      const framed = (): Promise<string> =>
        new Promise((resolve) => {
          const frame = document.createElement('iframe');
          frame.src = `${origin}/console`;
          frame.onload = () => {
            try {
              const text = frame.contentDocument?.body.textContent ?? '';
              resolve(text === '' ? 'nothing' : text);
            } catch {
              resolve('nothing');
            }
          };
          document.body.append(frame);
        });
      const socket = (): Promise<string> =>
        new Promise((resolve) => {
          const opened = new WebSocket(`${origin.replace('http', 'ws')}/link`);
          opened.onmessage = ({ data }) => resolve(String(data));
          opened.onopen = () => {
            opened.send('{"type":"hello","protocol":1,"screen":"console"}');
          };
          opened.onerror = () => resolve('nothing');
          opened.onclose = () => resolve('nothing');
        });
      return {
        fetched: await within(read('cors')),
        'fetched blindly': await within(read('no-cors')),
        script: await within(element('script', `${origin}/console`)),
        image: await within(element('img', `${origin}/console`)),
        style: await within(element('link', `${origin}/console`)),
        frame: await within(framed()),
        socket: await within(socket()),
      };
    }, ours());
  }

  const NOTHING: Got = {
    fetched: 'nothing',
    'fetched blindly': 'nothing',
    script: 'nothing',
    image: 'nothing',
    style: 'nothing',
    frame: 'nothing',
    socket: 'nothing',
  };

  test('the attempts are real: our own page gets its page and its present', async () => {
    const got = await tryAll(`${ours()}/console`);
    expect(got.fetched).toContain('<div id="screen"');
    expect(got.socket).toContain('"type":"snapshot"');
  });

  test('from another port of this machine it gets nothing', async () => {
    expect(await tryAll(`http://127.0.0.1:${foreignPort()}/`)).toEqual(NOTHING);
  });

  test('from another name of this machine it gets nothing', async () => {
    expect(await tryAll(`http://localhost:${foreignPort()}/`)).toEqual(NOTHING);
  });

  test('from a site elsewhere it gets nothing', async () => {
    expect(await tryAll(`http://${REBOUND}:${foreignPort()}/`)).toEqual(NOTHING);
  });

  test('whose name was pointed at our own port is turned away, its socket too', async () => {
    const { port } = new URL(ours());
    const page = await context.newPage();
    const answer = await page.goto(`http://${REBOUND}:${port}/console`);
    expect(answer?.status()).toBe(403);
    expect(await page.textContent('body')).toBe('open the address that Dimroom printed\n');
    const opened = await page.evaluate(
      () =>
        new Promise<string>((resolve) => {
          const socket = new WebSocket(`ws://${location.host}/link`);
          socket.onopen = () => resolve('open');
          socket.onerror = () => resolve('nothing');
        }),
    );
    expect(opened).toBe('nothing');
  });

  test('and the ledger has nothing of all that', () => {
    const kinds = new Set(entriesIn(screens.carrier().ledgerFile).map(({ kind }) => kind));
    expect([...kinds].sort()).toEqual(['settings', 'station-started']);
  });
});
