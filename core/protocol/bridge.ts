import { z } from 'zod';

/**
 * What a carrier gives to a screen: messages to and from the station, and a word about its windows. Electron's preload
 * puts one on `window.dimroom`; in a browser the page makes one from its socket.
 */
export interface Bridge {
  readonly carrier: 'desktop' | 'browser';
  /** Sends one message; the station parses it. */
  send(message: unknown): void;
  /** Hears every message from the station, unparsed. Returns the way to stop. */
  onMessage(hear: (message: unknown) => void): () => void;
  /** Hears whether the station can be reached. Called at once with the present state. */
  onLink(hear: (up: boolean) => void): () => void;
  /** Hears where the board is, a `BoardPlace` unparsed; null before it is known. Called at once. Desktop only. */
  onBoard?(hear: (place: unknown) => void): () => void;
  /** Has console and board change places, where the console asks. Answers a `SwapAnswer`, unparsed. Desktop only. */
  swapDisplays?(): Promise<unknown>;
}

/** `second monitor lost`: there was one, and the board stood on it. */
export const boardPlaceSchema = z.enum(['second monitor', 'no second monitor', 'second monitor lost']);
export type BoardPlace = z.infer<typeof boardPlaceSchema>;

/** Null where console and board have changed places; else why not, for a person. */
export const swapAnswerSchema = z.string().max(200).nullable();
export type SwapAnswer = z.infer<typeof swapAnswerSchema>;
