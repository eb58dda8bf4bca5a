import { app, type Session, type WebContents, type WebFrameMain, type WebPreferences } from 'electron';
import { isOurs } from './protocol.ts';

/** What every window runs under: a page is a page, and reaches the system only through the one bridge. */
export const secureWebPreferences = (preload: string, packaged: boolean): WebPreferences => ({
  preload,
  contextIsolation: true,
  sandbox: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  webviewTag: false,
  navigateOnDragDrop: false,
  spellcheck: false,
  devTools: !packaged,
  /** A countdown in a covered window runs on. */
  backgroundThrottling: false,
  /** A cue sounds at its time, whether or not a key was pressed since the start. */
  autoplayPolicy: 'no-user-gesture-required',
});

/**
 * No name is ever looked up for a page: asking for one is a way out of its own. Before the app is ready, when Chromium
 * reads its flags.
 */
export const refuseNames = (): void => app.commandLine.appendSwitch('host-resolver-rules', 'MAP * ~NOTFOUND');

/** A window stays on its page: nothing leads it elsewhere, it opens nothing, and it has no line to another machine. */
export function confineContents(contents: WebContents): void {
  // Neither a policy of contents nor a filter of requests is asked about these lines.
  contents.setWebRTCIPHandlingPolicy('disable_non_proxied_udp');
  contents.on('will-navigate', (event) => event.preventDefault());
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

/** Whatever would leave for a network all the same is sent here, this machine itself too, where nobody listens. */
const NOBODY = '127.0.0.1:1';

/** No page is granted anything, and nothing is fetched but the app's own files. */
export function confineSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, grant) => grant(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  void session.setProxy({ mode: 'fixed_servers', proxyRules: NOBODY, proxyBypassRules: '<-loopback>' });
  session.webRequest.onBeforeRequest(({ url }, decide) => decide({ cancel: !mayLoad(url) }));
}

/** The app's own files, files the page itself makes for saving, and the developer's tools. */
export const mayLoad = (url: string): boolean => isOurs(url) || isOwnFile(url) || url.startsWith('devtools://');

/** Whether an address is that of a file which one of the app's own pages made. */
export const isOwnFile = (url: string): boolean => url.startsWith('blob:') && isOurs(url.slice('blob:'.length));

/** Whether a message came from the page of a window itself, not from a frame within it or from a stray page. */
export const isOwnFrame = (frame: WebFrameMain | null, contents: WebContents): boolean =>
  frame !== null && frame === contents.mainFrame && isOurs(frame.url);
