import type { Bridge } from '../../core/protocol/bridge.ts';

const LINK_PATH = '/link';
/** Waits before coming again, each longer than the last; the last one from then on. */
const AGAIN_AFTER_MS = [100, 250, 500, 1000] as const;
const SLOWEST_MS = 2000;

/** The station over a socket of the page's own server, opened again whenever it closes. */
export function socketBridge(url: string = socketUrl(window.location)): Bridge {
  const messages = new Set<(message: unknown) => void>();
  const links = new Set<(up: boolean) => void>();
  let socket: WebSocket | null = null;
  let up = false;
  let tries = 0;

  function open(): void {
    const mine = new WebSocket(url);
    socket = mine;
    mine.onopen = () => {
      tries = 0;
      tell(true);
    };
    mine.onmessage = ({ data }) => {
      const message = parsed(data);
      for (const hear of messages) hear(message);
    };
    mine.onclose = () => {
      tell(false);
      setTimeout(open, AGAIN_AFTER_MS[tries] ?? SLOWEST_MS);
      tries += 1;
    };
  }

  function tell(now: boolean): void {
    up = now;
    for (const hear of links) hear(now);
  }

  open();
  return {
    carrier: 'browser',
    send: (message) => {
      if (socket?.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
    },
    onMessage: (hear) => {
      messages.add(hear);
      return () => messages.delete(hear);
    },
    onLink: (hear) => {
      links.add(hear);
      hear(up);
      return () => links.delete(hear);
    },
  };
}

const socketUrl = ({ protocol, host }: Location): string =>
  `${protocol === 'https:' ? 'wss' : 'ws'}://${host}${LINK_PATH}`;

/** What is not JSON is passed on as it came: the parser behind refuses it in words. */
function parsed(data: unknown): unknown {
  try {
    return JSON.parse(String(data));
  } catch {
    return data;
  }
}
