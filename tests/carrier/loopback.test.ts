import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import { WebSocket } from 'ws';
import type { ToStation } from '../../core/protocol/frames.ts';
import { type ScreenServer, serveScreens } from '../../electron/browser/screen-server.ts';
import { type ScreenSockets, screenSockets } from '../../electron/browser/screen-sockets.ts';
import type { StationKeeper } from '../../electron/carrier/station-keeper.ts';

let served: ScreenServer;
let sockets: ScreenSockets;
let port: number;
let cookie: string;
let toStation: ToStation[];
const station = { up: true, fatal: null as string | null };

const keeper: StationKeeper = {
  send: (frame) => {
    if (station.up) toStation.push(frame);
    return station.up;
  },
  report: () => {},
  stop: async () => {},
  get up() {
    return station.up;
  },
  get fatal() {
    return station.fatal;
  },
};

beforeAll(async () => {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-screens-'));
  const screens = join(folder, 'screens');
  mkdirSync(join(screens, 'assets'), { recursive: true });
  writeFileSync(join(screens, 'index.html'), 'the page');
  writeFileSync(join(screens, 'assets/page.js'), 'the script');
  writeFileSync(join(folder, 'secret.txt'), 'a secret');
  served = await serveScreens(screens, 0);
  sockets = screenSockets(served.door, keeper, () => ({ type: 'snapshot' }));
  served.server.on('upgrade', sockets.onUpgrade);
  port = Number(new URL(served.addresses[0] ?? '').port);
  cookie = `dimroom-${port}=${served.door.token}`;
});

beforeEach(() => {
  toStation = [];
  Object.assign(station, { up: true, fatal: null });
});

afterAll(() => {
  sockets.closeAll();
  served.server.closeAllConnections();
  served.server.close();
});

interface Answer {
  status: number;
  body: string;
  headers: Record<string, unknown>;
}

function ask(path: string, headers: Record<string, string> = {}, method = 'GET'): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = httpRequest({ host: '127.0.0.1', port, path, method, headers }, (response) => {
      let body = '';
      response.setEncoding('utf8');
      response.on('data', (part: string) => {
        body += part;
      });
      response.on('end', () => resolve({ status: response.statusCode ?? 0, body, headers: response.headers }));
    });
    asked.on('error', reject);
    asked.end();
  });
}

type Opened = { socket: WebSocket; messages: unknown[] };

/** Opens a socket; rejects with the status of the answer where it is not let in. */
function openSocket(headers: Record<string, string>, path = '/link'): Promise<Opened> {
  return new Promise((resolve, reject) => {
    const socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, { headers });
    const messages: unknown[] = [];
    socket.on('message', (data) => messages.push(JSON.parse(String(data))));
    socket.on('open', () => resolve({ socket, messages }));
    socket.on('unexpected-response', (_request, response) => reject(new Error(`answered ${response.statusCode}`)));
    socket.on('error', reject);
  });
}

const messagesPassedOn = () => toStation.filter((frame) => 'message' in frame);

const ownOrigin = (): string => `http://127.0.0.1:${port}`;
const ownHeaders = () => ({ cookie, origin: ownOrigin() });

test('each printed address lets its browser in with a cookie that no script and no other site can use', async () => {
  const paths = served.addresses.map((address) => new URL(address).pathname);
  expect(paths).toEqual(['/console', '/board', '/ledger']);
  for (const path of ['/', ...paths]) {
    const { status, headers } = await ask(`${path}?token=${served.door.token}`);
    expect(status).toBe(303);
    expect(headers.location).toBe(path === '/' ? '/console' : path);
    expect(headers['set-cookie']).toEqual([`${cookie}; HttpOnly; SameSite=Strict; Path=/`]);
  }
});

test('with the cookie every screen is the page, and may load and reach nothing but this server', async () => {
  for (const path of ['/console', '/board', '/ledger']) {
    const { status, body, headers } = await ask(path, { cookie });
    expect({ status, body }).toEqual({ status: 200, body: 'the page' });
    const policy = String(headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:;");
    expect(policy).toContain(`connect-src 'self' ws://127.0.0.1:${port};`);
    expect(policy).toContain("base-uri 'none'; form-action 'none'; frame-ancestors 'none'");
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['referrer-policy']).toBe('no-referrer');
  }
  expect((await ask('/assets/page.js', { cookie })).body).toBe('the script');
  expect((await ask('/console', { cookie, host: `localhost:${port}` })).status).toBe(200);
});

const turnedAway: [string, () => Promise<Answer>][] = [
  ['without a token', () => ask('/console')],
  ['for a file without a token', () => ask('/assets/page.js')],
  ['with the token of an earlier run', () => ask(`/console?token=${'A'.repeat(43)}`)],
  ['with an empty token', () => ask('/console?token=')],
  ['with a wrong token beside a right cookie', () => ask('/console?token=x', { cookie })],
  ['with the cookie of an earlier run', () => ask('/console', { cookie: `dimroom-${port}=${'A'.repeat(43)}` })],
  ['with the cookie of another port', () => ask('/console', { cookie: `dimroom-1=${served.door.token}` })],
  ['with the token for a file', () => ask(`/assets/page.js?token=${served.door.token}`)],
  ['under the name of another host', () => ask('/console', { cookie, host: 'example.com' })],
  ['under a name that only begins like ours', () => ask('/console', { cookie, host: `127.0.0.1:${port}.example.com` })],
  ['under our name without the port', () => ask('/console', { cookie, host: '127.0.0.1' })],
  ['with the token under another name', () => ask(`/?token=${served.door.token}`, { host: `example.com:${port}` })],
  ['to post', () => ask('/console', { cookie }, 'POST')],
  ['to put', () => ask('/assets/page.js', { cookie }, 'PUT')],
  ['to delete', () => ask('/assets/page.js', { cookie }, 'DELETE')],
  ['for what is allowed', () => ask('/console', { cookie }, 'OPTIONS')],
  ['for a whole foreign address', () => ask('http://example.com/console', { cookie })],
  ['for a path that is an address', () => ask('//example.com/console', { cookie })],
];

test.each(turnedAway)('a request %s is turned away with nothing in it', async (_what, asking) => {
  const { status, body, headers } = await asking();
  expect(status).toBe(403);
  expect(body).toBe('open the address that Dimroom printed\n');
  expect(headers['set-cookie']).toBeUndefined();
});

test.each(['/../secret.txt', '/..%2fsecret.txt', '/%2e%2e/secret.txt', '/assets/..%5c..%5csecret.txt', '/%00', '/%'])(
  'no path leads out of the folder: %s',
  async (path) => {
    const { status, body } = await ask(path, { cookie });
    expect({ status, body }).toEqual({ status: 404, body: '' });
  },
);

test('what is no request at all is closed', async () => {
  const answered = await new Promise<string>((resolve) => {
    let text = '';
    const socket = connect(port, '127.0.0.1', () => socket.write('CONNECT example.com:443 HTTP/1.1\r\n\r\n'));
    socket.on('data', (data) => {
      text += data;
    });
    socket.on('close', () => resolve(text));
    socket.on('error', () => {});
  });
  expect(answered).not.toContain('200');
});

test('requests that never end are closed in time, and keep nobody else waiting', async () => {
  const slow = Array.from({ length: 50 }, () => {
    const socket = connect(port, '127.0.0.1', () => socket.write('GET /console HTTP/1.1\r\nHost: 127.0.0.1\r\nX-A: '));
    socket.on('error', () => {});
    return new Promise<string>((resolve) => {
      let text = '';
      socket.on('data', (data) => {
        text += data;
      });
      socket.on('close', () => resolve(text));
    });
  });
  expect((await ask('/console', { cookie })).status).toBe(200);
  for (const answered of await Promise.all(slow)) expect(answered).not.toContain('200');
});

const socketsTurnedAway: [string, () => Promise<Opened>][] = [
  ['without the cookie', () => openSocket({ origin: ownOrigin() })],
  ['with an old cookie', () => openSocket({ cookie: `dimroom-${port}=old`, origin: ownOrigin() })],
  ['without an origin', () => openSocket({ cookie })],
  ['from a foreign page', () => openSocket({ cookie, origin: 'http://example.com' })],
  ['from a page on another port', () => openSocket({ cookie, origin: `http://127.0.0.1:${port + 1}` })],
  ['from a page without an origin of its own', () => openSocket({ cookie, origin: 'null' })],
  ['under another name', () => openSocket({ cookie, origin: 'http://example.com', host: 'example.com' })],
  ['from our other name', () => openSocket({ cookie, origin: `http://localhost:${port}` })],
  ['on another path', () => openSocket(ownHeaders(), '/')],
  ['with the token in its address', () => openSocket({ origin: ownOrigin() }, `/link?token=${served.door.token}`)],
];

test.each(socketsTurnedAway)('a socket %s is turned away', async (_what, opening) => {
  await expect(opening()).rejects.toThrow('answered 403');
  expect(messagesPassedOn()).toEqual([]);
});

test('a socket gets the present at once, and each end hears what the other says', async () => {
  const { socket, messages } = await openSocket(ownHeaders());
  await vi.waitFor(() => expect(messages).toEqual([{ type: 'snapshot' }]));
  socket.send('{"type":"hello"}');
  await vi.waitFor(() => expect(toStation).toHaveLength(1));
  const [frame] = toStation;
  const screen = frame !== undefined && 'message' in frame ? frame.screen : '';
  expect(frame).toEqual({ screen, message: { type: 'hello' } });
  sockets.tell(screen, 'to one');
  sockets.tell('*', 'to all');
  sockets.tell('page-none', 'to another');
  await vi.waitFor(() => expect(messages).toEqual([{ type: 'snapshot' }, 'to one', 'to all']));
  socket.close();
  await vi.waitFor(() => expect(toStation).toContainEqual({ left: screen }));
});

const closed = ({ socket }: Opened): Promise<number> => new Promise((resolve) => socket.on('close', resolve));

test('a frame over 64 KiB, or one that is not text, closes the socket and goes no further', async () => {
  const long = await openSocket(ownHeaders());
  long.socket.send(`"${'x'.repeat(64 * 1024)}"`);
  expect(await closed(long)).toBe(1009);
  const binary = await openSocket(ownHeaders());
  binary.socket.send(Buffer.from('{"type":"hello"}'));
  expect(await closed(binary)).toBe(1003);
  expect(messagesPassedOn()).toEqual([]);
});

/** A frame as it stands on the wire, made by hand: no library would send it. */
const badFrames: [string, Buffer][] = [
  ['that is not masked', Buffer.from([0x81, 0x02, 0x7b, 0x7d])],
  ['of an unknown kind', Buffer.from([0x83, 0x80, 0, 0, 0, 0])],
  ['with bits nobody agreed on', Buffer.from([0xf1, 0x80, 0, 0, 0, 0])],
  ['that goes on with what never began', Buffer.from([0x80, 0x80, 0, 0, 0, 0])],
  ['that is no UTF-8', Buffer.from([0x81, 0x82, 0, 0, 0, 0, 0xff, 0xfe])],
  ['that announces more than there can be', Buffer.from([0x81, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff])],
];

test.each(badFrames)('a frame %s closes the socket and goes no further', async (_what, bytes) => {
  const { socket } = await openSocket(ownHeaders());
  const wire = (socket as unknown as { _socket: NodeJS.WritableStream })._socket;
  const ended = closed({ socket, messages: [] });
  wire.write(bytes);
  expect(await ended).not.toBe(1000);
  expect(messagesPassedOn()).toEqual([]);
});

test('text that is not JSON is answered, and goes no further', async () => {
  const { socket, messages } = await openSocket(ownHeaders());
  socket.send('{"type":');
  await vi.waitFor(() => expect(messages).toContainEqual(expect.objectContaining({ type: 'error', requestId: null })));
  expect(messagesPassedOn()).toEqual([]);
  socket.close();
});

test('a screen that takes nothing in is dropped before it fills the memory', async () => {
  const { socket } = await openSocket(ownHeaders());
  const ended = closed({ socket, messages: [] });
  socket.pause();
  const megabyte = 'x'.repeat(1024 * 1024);
  // The system's own buffers take several of them before anything waits here.
  for (let sent = 0; sent < 64; sent += 1) sockets.tell('*', megabyte);
  socket.resume();
  expect(await ended).toBe(1006);
});

test('while the station is away no socket opens; a command on an open one is answered, not kept', async () => {
  const { socket, messages } = await openSocket(ownHeaders());
  station.up = false;
  socket.send('{"type":"command","requestId":"12345678"}');
  await vi.waitFor(() =>
    expect(messages).toContainEqual(expect.objectContaining({ type: 'error', requestId: '12345678' })),
  );
  await expect(openSocket(ownHeaders())).rejects.toThrow('answered 503');
  const ended = closed({ socket, messages });
  sockets.closeAll();
  expect(await ended).toBe(1012);
});

test('why the station cannot work is said on the socket', async () => {
  Object.assign(station, { up: false, fatal: 'the disk is full' });
  const { socket, messages } = await openSocket(ownHeaders());
  await vi.waitFor(() => expect(messages).toContainEqual({ type: 'error', requestId: null, says: 'the disk is full' }));
  socket.close();
});
