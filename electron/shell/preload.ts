import { contextBridge, ipcRenderer } from 'electron';
import type { Bridge } from '../../core/protocol/bridge.ts';
import { CHANNELS } from './channels.ts';

/** Messages that came before the page began to hear; a page hears within the first few. */
const MOST_EARLY = 8;

const hearers = new Set<(message: unknown) => void>();
let early: unknown[] = [];
const link = remembered(false);
const board = remembered<unknown>(null);

ipcRenderer.on(CHANNELS.fromStation, (_event, message: unknown) => {
  if (hearers.size === 0) early = [...early, message].slice(-MOST_EARLY);
  for (const hear of hearers) hear(message);
});
ipcRenderer.on(CHANNELS.link, (_event, up: unknown) => link.set(up === true));
ipcRenderer.on(CHANNELS.board, (_event, place: unknown) => board.set(place));

const bridge: Bridge = {
  carrier: 'desktop',
  send: (message) => ipcRenderer.send(CHANNELS.toStation, message),
  onMessage: (hear) => {
    mustHear(hear);
    hearers.add(hear);
    for (const message of early.splice(0)) hear(message);
    return () => hearers.delete(hear);
  },
  onLink: link.on,
  onBoard: board.on,
  swapDisplays: () => ipcRenderer.invoke(CHANNELS.swap),
};

contextBridge.exposeInMainWorld('dimroom', bridge);
// Earlier the frame has no address yet, and the shell hears only its own pages.
window.addEventListener('DOMContentLoaded', () => ipcRenderer.send(CHANNELS.joined));

/** Anything else among the hearers would keep those after it from hearing. */
function mustHear(hear: unknown): void {
  if (typeof hear !== 'function') throw new TypeError('only a function can hear');
}

/** A value that tells each hearer its present state at once, then every change. */
function remembered<Value>(first: Value) {
  const heard = new Set<(value: Value) => void>();
  let present = first;
  return {
    set: (value: Value): void => {
      present = value;
      for (const hear of heard) hear(value);
    },
    on: (hear: (value: Value) => void): (() => void) => {
      mustHear(hear);
      heard.add(hear);
      hear(present);
      return () => heard.delete(hear);
    },
  };
}
