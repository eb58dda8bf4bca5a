import { type IpcMainEvent, ipcMain, type WebContents } from 'electron';
import type { BoardPlace } from '../../core/protocol/bridge.ts';
import { cannotWork, MOST_MESSAGE_BYTES, notReadable, stationAway, tooLong } from '../carrier/refusals.ts';
import type { StationKeeper } from '../carrier/station-keeper.ts';
import { CHANNELS } from './channels.ts';
import { isOwnFrame } from './security.ts';

/** The windows' pages, as the station's screens. */
export interface Links {
  /** Sends a message to one screen, or to `*`, all of them. */
  tell(screen: string, message: unknown): void;
  tellLink(up: boolean): void;
  tellBoard(place: BoardPlace): void;
}

interface Present {
  keeper(): StationKeeper;
  snapshot(): unknown;
}

export function linkScreens(present: Present): Links {
  const screens = new Map<string, WebContents>();
  let boardPlace: BoardPlace = 'no second monitor';

  const tell = (screen: string, message: unknown): void => {
    for (const contents of screen === '*' ? screens.values() : [screens.get(screen)]) {
      if (contents !== undefined) post(contents, CHANNELS.fromStation, message);
    }
  };

  const tellAll = (channel: string, value: unknown): void => {
    for (const contents of screens.values()) post(contents, channel, value);
  };

  function join(contents: WebContents): void {
    const screen = nameOf(contents);
    const keeper = present.keeper();
    if (!screens.has(screen)) {
      contents.once('destroyed', () => {
        screens.delete(screen);
        keeper.send({ left: screen });
      });
      contents.on('render-process-gone', () => keeper.send({ left: screen }));
    }
    screens.set(screen, contents);
    post(contents, CHANNELS.link, keeper.up);
    post(contents, CHANNELS.board, boardPlace);
    const snapshot = present.snapshot();
    if (snapshot !== null) post(contents, CHANNELS.fromStation, snapshot);
    if (keeper.fatal !== null) post(contents, CHANNELS.fromStation, cannotWork(keeper.fatal));
  }

  function pass(contents: WebContents, sent: unknown): void {
    const screen = nameOf(contents);
    const read = plain(sent);
    const passed = 'message' in read && present.keeper().send({ screen, message: read.message });
    const refusal = 'message' in read ? stationAway(read.message) : read.refusal;
    if (!passed && refusal !== null) tell(screen, refusal);
  }

  hearOwnPages(CHANNELS.joined, join);
  hearOwnPages(CHANNELS.toStation, pass);
  return {
    tell,
    tellLink: (up) => tellAll(CHANNELS.link, up),
    tellBoard: (place) => {
      boardPlace = place;
      tellAll(CHANNELS.board, place);
    },
  };
}

const nameOf = (contents: WebContents): string => `window-${contents.id}`;

function hearOwnPages(channel: string, hear: (contents: WebContents, sent: unknown) => void): void {
  ipcMain.on(channel, (event: IpcMainEvent, sent: unknown) => {
    if (isOwnFrame(event.senderFrame, event.sender)) hear(event.sender, sent);
    else console.error('a message from a frame that is not a screen was dropped');
  });
}

/** Between two processes more can pass than JSON says: what goes on to the station is JSON, and short. */
function plain(sent: unknown): { message: unknown } | { refusal: unknown } {
  try {
    const text = JSON.stringify(sent) ?? 'null';
    if (Buffer.byteLength(text) > MOST_MESSAGE_BYTES) return { refusal: tooLong() };
    return { message: JSON.parse(text) };
  } catch {
    return { refusal: notReadable() };
  }
}

function post(contents: WebContents, channel: string, value: unknown): void {
  if (!contents.isDestroyed() && !contents.isCrashed()) contents.send(channel, value);
}
