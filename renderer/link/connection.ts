import type { Bridge } from '../../core/protocol/bridge.ts';
import { type Message, messageSchema, PROTOCOL, type Request, type ScreenName } from '../../core/protocol/messages.ts';
import { createStore } from './external-store.ts';
import { socketBridge } from './socket-bridge.ts';

declare global {
  interface Window {
    /** Put there by the desktop's preload; absent in a browser. */
    readonly dimroom?: Bridge;
  }
}

/** Whether the station can be reached, as the carrier says. */
export const linkUp = createStore(false);
/** Why the station cannot work, or that a message could not be read: for a person. Null while all is well. */
export const linkTrouble = createStore<string | null>(null);

const hearers = new Set<(message: Message) => void>();
let bridge: Bridge | null = null;

/** Joins this page to the station as one of its screens. Called once. */
export function connect(screen: ScreenName): Bridge {
  const joined = window.dimroom ?? socketBridge();
  bridge = joined;
  joined.onMessage(take);
  joined.onLink((up) => {
    linkUp.set(up);
    if (up) send({ type: 'hello', protocol: PROTOCOL, screen });
  });
  return joined;
}

export function send(request: Request): void {
  bridge?.send(request);
}

export function hearMessages(hear: (message: Message) => void): () => void {
  hearers.add(hear);
  return () => hearers.delete(hear);
}

function take(message: unknown): void {
  const read = messageSchema.safeParse(message);
  if (!read.success) {
    console.error('a message from the station could not be read', read.error.issues[0]);
    linkTrouble.set('a message from the station could not be read: these screens and the station differ in version');
    return;
  }
  if (read.data.type === 'error' && read.data.requestId === null) linkTrouble.set(read.data.says);
  if (read.data.type === 'snapshot') linkTrouble.set(null);
  for (const hear of hearers) hear(read.data);
}
