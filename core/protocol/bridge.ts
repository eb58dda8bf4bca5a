/**
 * What a carrier gives to a screen: messages to and from the station, nothing else. Electron's preload puts one on
 * `window.dimroom`; in a browser the page makes one from its socket.
 */
export interface Bridge {
  readonly carrier: 'desktop' | 'browser';
  /** Sends one message; the station parses it. */
  send(message: unknown): void;
  /** Hears every message from the station, unparsed. Returns the way to stop. */
  onMessage(hear: (message: unknown) => void): () => void;
  /** Hears whether the station can be reached. Called at once with the present state. */
  onLink(hear: (up: boolean) => void): () => void;
  /** Hears whether there is a second monitor for the board. Called at once with the present state. Desktop only. */
  onBoard?(hear: (where: BoardPlace) => void): () => void;
}

export type BoardPlace = 'second monitor' | 'no second monitor';
