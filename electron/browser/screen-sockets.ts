import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { type WebSocket, WebSocketServer } from 'ws';
import { cannotWork, MOST_MESSAGE_BYTES, notReadable, stationAway } from '../carrier/refusals.ts';
import type { StationKeeper } from '../carrier/station-keeper.ts';
import type { Doorkeeper } from './doorkeeper.ts';

export interface ScreenSockets {
  onUpgrade(request: IncomingMessage, socket: Duplex, head: Buffer): void;
  /** Sends a message to one screen, or to `*`, all of them. */
  tell(screen: string, message: unknown): void;
  /** Closes every socket: a page takes that for "the station cannot be reached", and comes again. */
  closeAll(): void;
}

export const LINK_PATH = '/link';
/** A screen that has not taken this much shows an old present, and would fill the memory. */
const MOST_WAITING_BYTES = 4 * 1024 * 1024;
const CLOSED = { binary: 1003, restarting: 1012 } as const;

/** One socket a screen. Each text frame, both ways, is one message of the protocol. */
export function screenSockets(door: Doorkeeper, keeper: StationKeeper, present: () => unknown): ScreenSockets {
  const sockets = new WebSocketServer({ noServer: true, maxPayload: MOST_MESSAGE_BYTES, perMessageDeflate: false });
  const screens = new Map<string, WebSocket>();
  let opened = 0;

  function welcome(socket: WebSocket): void {
    socket.on('error', () => socket.terminate());
    opened += 1;
    const screen = `page-${opened}`;
    screens.set(screen, socket);
    socket.on('close', () => {
      screens.delete(screen);
      keeper.send({ left: screen });
    });
    socket.on('message', (data, isBinary) => {
      if (isBinary) return socket.close(CLOSED.binary);
      hear(screen, socket, String(data));
    });
    const snapshot = present();
    if (snapshot !== null) post(socket, snapshot);
    if (keeper.fatal !== null) post(socket, cannotWork(keeper.fatal));
  }

  function hear(screen: string, socket: WebSocket, text: string): void {
    const message = parsed(text);
    const passed = message !== undefined && keeper.send({ screen, message });
    const refusal = message === undefined ? notReadable() : stationAway(message);
    if (!passed && refusal !== null) post(socket, refusal);
  }

  return {
    onUpgrade: (request, socket, head) => {
      const admitted = request.url === LINK_PATH && door.isOwnPage(request) && door.hasCookie(request);
      if (!admitted) return turnAway(socket, '403 Forbidden');
      // One that cannot work is told on the socket; one that is starting again will be up in a moment.
      if (!keeper.up && keeper.fatal === null) return turnAway(socket, '503 Service Unavailable');
      sockets.handleUpgrade(request, socket, head, welcome);
    },
    tell: (screen, message) => {
      const heard = screen === '*' ? screens.values() : [screens.get(screen)];
      for (const socket of heard) if (socket !== undefined) post(socket, message);
    },
    closeAll: () => {
      for (const socket of screens.values()) socket.close(CLOSED.restarting);
    },
  };
}

function post(socket: WebSocket, message: unknown): void {
  if (socket.bufferedAmount > MOST_WAITING_BYTES) socket.terminate();
  else if (socket.readyState === socket.OPEN) socket.send(JSON.stringify(message));
}

function turnAway(socket: Duplex, status: string): void {
  socket.on('error', () => socket.destroy());
  socket.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
