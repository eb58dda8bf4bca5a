import { SCREENS } from '../../core/protocol/messages.ts';

/** The paths of the screens; each is the same page, which looks at its own path. */
export const SCREEN_PATHS: readonly string[] = SCREENS.map((screen) => `/${screen}`);
export const PAGE_FILE = '/index.html';

/** What the page may load and reach: its own files and, in a browser, its own socket. */
export const pageHeaders = (socket?: string): Record<string, string> => ({
  'Content-Security-Policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "media-src 'self'",
    "font-src 'self'",
    `connect-src 'self'${socket === undefined ? '' : ` ${socket}`}`,
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Resource-Policy': 'same-origin',
});
