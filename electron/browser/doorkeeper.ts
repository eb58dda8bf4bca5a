import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

/**
 * Who is let in. Any web page, and any program of any user of this machine, can send requests to a loopback port: only
 * one that was given this run's token, and that names this server as its host, is answered.
 */
export interface Doorkeeper {
  readonly token: string;
  /** Whether the request names this server, so that no other name can be pointed at it. */
  knowsHost(request: IncomingMessage): boolean;
  isToken(offered: string): boolean;
  /** Whether the request carries the token in its cookie. */
  hasCookie(request: IncomingMessage): boolean;
  /** Whether a page of this very server sent it. Sockets are not held by a browser's same-origin rule. */
  isOwnPage(request: IncomingMessage): boolean;
  /** The header that gives a browser the cookie; another port's server does not overwrite it. */
  readonly setCookie: string;
}

const TOKEN_BYTES = 32;

export function doorkeeper(port: number): Doorkeeper {
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  const cookieName = `dimroom-${port}`;
  const hosts = [`127.0.0.1:${port}`, `localhost:${port}`];

  const knowsHost = ({ headers }: IncomingMessage): boolean => hosts.includes(headers.host ?? '');
  const isToken = (offered: string): boolean => timingSafeEqual(digest(offered), digest(token));

  return {
    token,
    knowsHost,
    isToken,
    hasCookie: ({ headers }) => cookiesNamed(cookieName, headers.cookie ?? '').some(isToken),
    isOwnPage: (request) => knowsHost(request) && request.headers.origin === `http://${request.headers.host}`,
    setCookie: `${cookieName}=${token}; HttpOnly; SameSite=Strict; Path=/`,
  };
}

/** Of equal length for any text, so that comparing takes equal time. */
const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

const cookiesNamed = (name: string, header: string): string[] =>
  header
    .split(';')
    .map((pair) => pair.trim())
    .filter((pair) => pair.startsWith(`${name}=`))
    .map((pair) => pair.slice(name.length + 1));
