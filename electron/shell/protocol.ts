import { readdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { protocol } from 'electron';
import { PAGE_FILE, pageHeaders, SCREEN_PATHS } from '../carrier/screen-pages.ts';

const SCHEME = 'app';
const HOST = 'dimroom';

export type Page = 'console' | 'board' | 'ledger' | 'crashed';
export const pageUrl = (page: Page): string => `${SCHEME}://${HOST}/${page}`;

/** Whether an address is one of the app's own. */
export function isOurs(address: string): boolean {
  try {
    const { protocol: scheme, host } = new URL(address);
    return scheme === `${SCHEME}:` && host === HOST;
  } catch {
    return false;
  }
}

/** Before the app is ready: the scheme is as good as https, and nothing but the app speaks it. */
export function registerScheme(): void {
  const privileges = { standard: true, secure: true, supportFetchAPI: true, stream: true };
  protocol.registerSchemesAsPrivileged([{ scheme: SCHEME, privileges }]);
}

/** Serves the files that are in the folder now, each under its own path, and nothing else. */
export function serveScreens(folder: string): void {
  const allowed = new Map(filesUnder(folder).map((path) => [path, join(folder, path)]));
  const page = allowed.get(PAGE_FILE);
  if (page !== undefined) for (const path of SCREEN_PATHS) allowed.set(path, page);

  protocol.handle(SCHEME, async ({ url, method }) => {
    const { host, pathname } = new URL(url);
    if (host !== HOST || method !== 'GET') return refused(403);
    if (pathname === '/crashed') return new Response(CRASHED_PAGE, { headers: headersFor('.html') });
    const file = allowed.get(pathname);
    if (file === undefined) return refused(404);
    return new Response(new Uint8Array(await readFile(file)), { headers: headersFor(extname(file)) });
  });
}

const CONTENT_TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.wav': 'audio/wav',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
};

/** Shown in place of a window that keeps crashing. It has no script that could crash with it. */
const CRASHED_PAGE = `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="color-scheme" content="dark"><title>Dimroom</title></head>
<body>
<h1>This window keeps failing.</h1>
<p>The record is safe, and the times in it still hold. The pump and the laser are not affected.</p>
<p>Go on by the clock on the wall. Close Dimroom and start it again: it takes the session up where it is.</p>
</body>
</html>
`;

const headersFor = (extension: string): Record<string, string> => ({
  ...pageHeaders(),
  'Content-Type': CONTENT_TYPES[extension] ?? 'application/octet-stream',
});

const refused = (status: number): Response => new Response(null, { status, headers: pageHeaders() });

function filesUnder(folder: string, path = ''): string[] {
  return readdirSync(join(folder, path), { withFileTypes: true }).flatMap((entry) => {
    const inner = `${path}/${entry.name}`;
    if (entry.isDirectory()) return filesUnder(folder, inner);
    return entry.isFile() ? [inner] : [];
  });
}
