import type { BrowserWindow, Display } from 'electron';
import { fill, openBoard } from './windows.ts';

interface Hears {
  onOpened(board: BrowserWindow): void;
  /** It has the keyboard, which belongs to the console. */
  onFocus(): void;
}

export interface BoardWindow {
  /** Opens the board on a display, or brings it there; with null it is closed. */
  showOn(display: Display | null): void;
}

/** Without a further move for this long, a window is where the window system wants it. */
const SETTLED_MS = 200;
/** A window system that will not have it otherwise is not fought for ever. */
const MOST_REFILLS = 3;

/** One board at most, which fills the display it is given until it is given another, whatever happens to its window. */
export function boardWindow({ onOpened, onFocus }: Hears): BoardWindow {
  let board: BrowserWindow | null = null;
  let on: Display | null = null;
  let refills = 0;
  let settling: ReturnType<typeof setTimeout> | undefined;

  function open(display: Display): void {
    const opened = openBoard(display);
    board = opened;
    onOpened(opened);
    opened.on('move', lookAgain);
    opened.on('resize', lookAgain);
    // A click, or a page that is loaded again, must not take the keys away from the nurse.
    opened.on('focus', onFocus);
    opened.on('closed', () => {
      if (board !== opened) return;
      // Closed by the window system, not by us: the operator must not lose it.
      board = null;
      setImmediate(() => showOn(on));
    });
  }

  /** A window system may have another word after a move: once that has settled, the board fills its display again. */
  function lookAgain(): void {
    clearTimeout(settling);
    settling = setTimeout(() => {
      if (board === null || on === null || samePlace(board.getBounds(), on.bounds) || refills >= MOST_REFILLS) return;
      refills += 1;
      fill(board, on);
    }, SETTLED_MS);
  }

  function showOn(display: Display | null): void {
    const before = on;
    on = display;
    refills = 0;
    if (display === null) close();
    else if (board === null) open(display);
    else if (before === null || !samePlace(before.bounds, display.bounds)) fill(board, display);
  }

  function close(): void {
    const closing = board;
    board = null;
    closing?.destroy();
  }

  return { showOn };
}

type Rectangle = Display['bounds'];

const samePlace = (a: Rectangle, b: Rectangle): boolean =>
  a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;
