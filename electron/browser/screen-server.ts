import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import sirv from 'sirv';
import { PAGE_FILE, pageHeaders, SCREEN_PATHS } from '../carrier/screen-pages.ts';
import { type Doorkeeper, doorkeeper } from './doorkeeper.ts';

export interface ScreenServer {
  readonly server: Server;
  readonly door: Doorkeeper;
  /** The screens' addresses, each of which lets its browser in: console, board, ledger. */
  readonly addresses: readonly string[];
}

/** A request that is not whole by then is nobody's who waits for a page: its connection is closed. */
const SLOW_MS = 5_000;

/** Serves the screens' files on loopback. @throws Error where the port cannot be had. */
export async function serveScreens(folder: string, wantedPort: number): Promise<ScreenServer> {
  const server = createServer({ headersTimeout: SLOW_MS, requestTimeout: SLOW_MS, connectionsCheckingInterval: 1_000 });
  const port = await listen(server, wantedPort);
  const door = doorkeeper(port);
  // Only files that were there at the start are served: no path can lead out of the folder.
  const files = sirv(folder, { etag: true, dotfiles: false });
  server.on('request', (request, response) => answer(request, response, door, files));
  const addresses = SCREEN_PATHS.map((path) => `http://127.0.0.1:${port}${path}?token=${door.token}`);
  return { server, door, addresses };
}

function answer(request: IncomingMessage, response: ServerResponse, door: Doorkeeper, files: Files): void {
  const ruling = ruleOn(request, door);
  if (ruling.kind === 'refuse') refuse(response);
  if (ruling.kind === 'enter') response.setHeader('Set-Cookie', door.setCookie);
  if (ruling.kind === 'enter' || ruling.kind === 'lead') redirect(response, ruling.path);
  if (ruling.kind !== 'serve') return;
  const headers = { ...pageHeaders(`ws://${request.headers.host}`), 'Cache-Control': 'no-cache' };
  for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
  request.url = ruling.path;
  files(request, response, () => void response.writeHead(404).end());
}

type Files = ReturnType<typeof sirv>;

type Ruling =
  | { readonly kind: 'refuse' }
  /** `enter`: with the token, to be given the cookie; `lead`: only to another path. */
  | { readonly kind: 'enter' | 'lead' | 'serve'; readonly path: string };

function ruleOn(request: IncomingMessage, door: Doorkeeper): Ruling {
  const url = readUrl(request.url);
  if (url === null || !METHODS.includes(request.method ?? '') || !door.knowsHost(request)) return REFUSED;
  const isScreen = SCREEN_PATHS.includes(url.pathname);
  const screen = url.pathname === '/' ? FIRST_PATH : url.pathname;
  const offered = url.searchParams.get('token');
  if (offered !== null) {
    const admitted = (isScreen || url.pathname === '/') && door.isToken(offered);
    return admitted ? { kind: 'enter', path: screen } : REFUSED;
  }
  if (!door.hasCookie(request)) return REFUSED;
  if (url.pathname === '/') return { kind: 'lead', path: screen };
  return { kind: 'serve', path: isScreen ? PAGE_FILE : url.pathname };
}

const REFUSED: Ruling = { kind: 'refuse' };
const METHODS = ['GET', 'HEAD'];
const FIRST_PATH = '/console';

function redirect(response: ServerResponse, path: string): void {
  response.writeHead(303, { Location: path, 'Cache-Control': 'no-store', 'Referrer-Policy': 'no-referrer' }).end();
}

/** A person may come here with a tab of an earlier run. */
function refuse(response: ServerResponse): void {
  response.writeHead(403, { 'Content-Type': 'text/plain; charset=utf-8', Connection: 'close' });
  response.end('open the address that Dimroom printed\n');
}

function readUrl(target: string | undefined): URL | null {
  if (target === undefined || !target.startsWith('/') || target.startsWith('//')) return null;
  try {
    return new URL(target, 'http://127.0.0.1');
  } catch {
    return null;
  }
}

const listen = (server: Server, port: number): Promise<number> =>
  new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', () => resolve((server.address() as AddressInfo).port));
  });
