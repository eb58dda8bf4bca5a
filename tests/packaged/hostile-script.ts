/**
 * What somebody would try who has got script of their own into a page. Each function runs in the page and stands alone;
 * each returns what it got at, which is nothing where all is well.
 */

/** By which names, or by the makers of which functions, something of Node or Electron is reached. */
export function reachOfNode(): string[] {
  const names = ['require', 'process', 'module', 'Buffer', 'global', 'electron', 'ipcRenderer', '__dirname'];
  const found = names.filter((name) => name in window);
  const given = window.dimroom;
  const handed: unknown[] = [...Object.values(given ?? {}), given?.onMessage(() => {}), given?.swapDisplays?.()];
  for (const listen of [given?.onMessage, given?.onLink, given?.onBoard]) {
    try {
      listen?.(1 as unknown as () => void);
      found.push('a place among the hearers for what cannot hear');
    } catch (error) {
      handed.push(error);
    }
  }
  for (const [index, value] of handed.entries()) {
    try {
      // A function of another world would make functions of that world.
      const maker = (value as { constructor: { constructor: FunctionConstructor } }).constructor.constructor;
      const seen = maker('return typeof process + typeof require + typeof module')();
      if (seen !== 'undefinedundefinedundefined') found.push(`what the bridge gives, ${index}: ${seen}`);
    } catch {
      // The page's policy lets no text become code.
    }
  }
  return found;
}

/** Whether the bridge is still what the shell put there after every way of changing it was tried. */
export function bentBridge(): string {
  const { dimroom } = window;
  const send = dimroom?.send;
  const other = { carrier: 'desktop', send: () => {} };
  const ways = [
    () => Object.assign(window, { dimroom: other }),
    () => Object.assign(window.dimroom ?? {}, other),
    () => Object.defineProperty(window, 'dimroom', { value: other }),
    () => Object.setPrototypeOf(window.dimroom, other),
    () => Reflect.deleteProperty(window, 'dimroom'),
  ];
  for (const way of ways) {
    try {
      way();
    } catch {
      // Refused aloud is refused.
    }
  }
  return send !== undefined && window.dimroom === dimroom && window.dimroom?.send === send ? 'as it was' : 'changed';
}

/** By which ways an address gives something to read. */
export async function readBy(address: string): Promise<string[]> {
  const WAIT_MS = 700;
  const soon = <Value>(asked: Promise<Value>): Promise<Value | false> =>
    Promise.race([
      asked.catch(() => false as const),
      new Promise<false>((give) => setTimeout(() => give(false), WAIT_MS)),
    ]);
  const loads = (element: HTMLElement): Promise<boolean> =>
    new Promise((tell) => {
      element.onload = () => tell(true);
      element.onerror = () => tell(false);
      document.body.append(element);
    });
  const made = <Name extends keyof HTMLElementTagNameMap>(name: Name, set: Partial<HTMLElementTagNameMap[Name]>) =>
    Object.assign(document.createElement(name), set);
  const frame = made('iframe', { src: address });

  const ways: Record<string, () => Promise<unknown>> = {
    fetch: async () => (await fetch(address)).ok,
    'fetch, unread': async () => {
      const { ok, type } = await fetch(address, { mode: 'no-cors' });
      return ok || type === 'opaque';
    },
    xhr: () =>
      new Promise((tell) => {
        const request = new XMLHttpRequest();
        request.onloadend = () => tell(request.responseText.length > 0);
        request.open('GET', address);
        request.send();
      }),
    import: () => import(/* @vite-ignore */ address),
    image: () => loads(made('img', { src: address })),
    style: () => loads(made('link', { rel: 'stylesheet', href: address })),
    frame: async () => (await loads(frame)) && (frame.contentDocument?.body?.textContent ?? '') !== '',
    object: async () => {
      const object = made('object', { data: address });
      return (await loads(object)) && (object.contentDocument?.body?.textContent ?? '') !== '';
    },
    worker: () =>
      new Promise((tell) => {
        const worker = new Worker(address);
        worker.onerror = () => tell(false);
        setTimeout(() => tell(true), WAIT_MS / 2);
      }),
  };
  const read = await Promise.all(
    Object.entries(ways).map(async ([name, way]) => {
      const got = await soon(new Promise<unknown>((tell) => tell(way())));
      return got === false ? [] : [name];
    }),
  );
  for (const left of document.querySelectorAll('body > :is(iframe, object, img, link)')) left.remove();
  return read.flat();
}

/** Tries to be heard on a port of this machine by every way a page has. Nothing is told: that is for the port to say. */
export async function reachOut(port: number): Promise<void> {
  const http = `http://127.0.0.1:${port}/`;
  const made = <Name extends keyof HTMLElementTagNameMap>(name: Name, set: Partial<HTMLElementTagNameMap[Name]>) => {
    const element = Object.assign(document.createElement(name), set);
    document.body.append(element);
    return element;
  };
  const linked = (rel: string): unknown => made('link', { rel, href: http });
  const peerTo = async (urls: string): Promise<void> => {
    const peer = new RTCPeerConnection({ iceServers: [{ urls, username: 'u', credential: 'c' }] });
    peer.createDataChannel('x');
    await peer.setLocalDescription(await peer.createOffer());
  };
  const ways: (() => unknown)[] = [
    () => fetch(http, { mode: 'no-cors' }),
    () => navigator.sendBeacon(http, 'x'),
    () => new WebSocket(`ws://127.0.0.1:${port}/`),
    () => new EventSource(http),
    () => import(/* @vite-ignore */ http),
    () => new Worker(URL.createObjectURL(new Blob([`fetch('${http}', { mode: 'no-cors' })`]))),
    () => new FontFace('x', `url(${http})`).load(),
    () => navigator.serviceWorker.register(http),
    () => made('img', { src: http }),
    () => made('script', { src: http }),
    () => made('iframe', { src: http }),
    () => made('object', { data: http }),
    () => made('embed', { src: http }),
    () => made('audio', { src: http }),
    () => made('video', { poster: http }),
    () => made('div', {}).setAttribute('style', `background: url(${http})`),
    ...['stylesheet', 'prefetch', 'preload', 'prerender', 'preconnect', 'icon', 'manifest'].map(
      (rel) => () => linked(rel),
    ),
    () => made('form', { action: http, method: 'post' }).submit(),
    () => made('form', { action: http, method: 'post', target: '_blank' }).submit(),
    () => made('a', { href: http, ping: http }).click(),
    () => made('a', { href: http, download: 'x' }).click(),
    () => window.open(http),
    () => location.assign(http),
    () => peerTo(`stun:127.0.0.1:${port}`),
    () => peerTo(`turn:127.0.0.1:${port}?transport=udp`),
    () => peerTo(`turn:127.0.0.1:${port}?transport=tcp`),
  ];
  for (const way of ways) {
    try {
      Promise.resolve(way()).catch(() => {});
    } catch {
      // Refused aloud is refused.
    }
  }
  await new Promise((waited) => setTimeout(waited, 500));
}

/** The bridges, and the windows, that are got at beside the page's own. */
export async function otherWindows(): Promise<string[]> {
  const found: string[] = [];
  for (const address of ['app://dimroom/console', 'app://dimroom/ledger', 'about:blank', '']) {
    const opened = window.open(address, '_blank', 'popup');
    if (opened !== null) found.push(`opened ${address}`);
    const frame = Object.assign(document.createElement('iframe'), { src: address });
    document.body.append(frame);
    await new Promise((loaded) => setTimeout(loaded, 300));
    const within = frame.contentWindow as (Window & { dimroom?: unknown }) | null;
    try {
      if (within?.dimroom !== undefined) found.push(`a bridge in a frame of ${address}`);
    } catch {
      // Another origin's: it cannot be looked into.
    }
    frame.remove();
  }
  if (window.opener !== null) found.push('an opener');
  if (window.parent !== window) found.push('a parent');
  return found;
}

/** Sends what is no message. Returns how many could be sent at all; the bridge refuses what cannot be copied. */
export async function sendJunk(): Promise<{ sent: number }> {
  const circle: { self?: unknown } = {};
  circle.self = circle;
  let deep: unknown = {};
  for (let depth = 0; depth < 500; depth += 1) deep = { deep };
  const requestId = 'hostile-request';
  const by = { initials: 'XX', role: 'nurse' };
  const junk: unknown[] = [
    undefined,
    null,
    true,
    Number.NaN,
    'text',
    [],
    {},
    circle,
    deep,
    10n,
    Symbol('x'),
    () => {},
    new Map([['type', 'hello']]),
    new Date(),
    new Uint8Array(70_000),
    'x'.repeat(1_000_000),
    { type: 'open', requestId, by, command: { kind: 'open-session', more: 'x'.repeat(100_000) } },
    { type: 'open', requestId: 1, by, command: { kind: 'open-session' } },
    { type: 'open', requestId, by: { initials: 'XX', role: 'station' }, command: { kind: 'open-session' } },
    { type: 'open', requestId, by, command: { kind: 'discharge' } },
    { type: 'command', requestId, sessionId: '../../x', seq: -1, by, command: { kind: 'begin-flush' } },
    { type: 'command', requestId, sessionId: 'none', seq: 1e9, by, command: { kind: 'begin-flush' } },
    { type: 'hello', protocol: 99, screen: 'console' },
    { stop: true },
    { report: { kind: 'closed', words: 'x' } },
    { screen: '*', message: {} },
    JSON.parse('{"type":"hello","__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}}}'),
  ];
  let sent = 0;
  for (const message of junk) {
    try {
      window.dimroom?.send(message);
      sent += 1;
    } catch {
      // Refused before it left the page.
    }
  }
  await new Promise((waited) => setTimeout(waited, 500));
  return { sent };
}

/** What the station answers to each of some messages that it cannot read, in order. */
export async function answersTo(messages: readonly unknown[]): Promise<string[]> {
  const answers: string[] = [];
  for (const message of messages) {
    const answer = await new Promise<string>((tell) => {
      const stop = window.dimroom?.onMessage((heard) => {
        const { type, requestId, says } = heard as { type: string; requestId: unknown; says: string };
        if (type !== 'error' || requestId !== null) return;
        stop?.();
        tell(says);
      });
      window.dimroom?.send(message);
    });
    answers.push(answer);
  }
  return answers;
}
