import { type BrowserWindow, type Display, screen } from 'electron';
import { fill, openBoard } from './windows.ts';

interface BoardHears {
  onOpened(board: BrowserWindow): void;
  /** Whether there is a second monitor; heard at the start and on every change. */
  onPlace(there: boolean): void;
  onLost(words: string): void;
  onFound(words: string): void;
}

/** Keeps a board on a second display for as long as there is one, wherever it is. */
export function keepBoard(consoleWindow: BrowserWindow, hears: BoardHears): void {
  let board: BrowserWindow | null = null;
  let on: Display | null = null;

  function place(): void {
    const display = boardDisplay(screen.getAllDisplays(), screen.getPrimaryDisplay().id, on?.id ?? null);
    if (display === null) close();
    else if (board === null) open(display);
    else if (on === null || !sameBounds(on, display)) fill(board, display);
    on = display;
    hears.onPlace(display !== null);
  }

  function open(display: Display): void {
    const opened = openBoard(display);
    board = opened;
    hears.onOpened(opened);
    // A click, or a page that is loaded again, must not take the keys away from the nurse.
    opened.on('focus', () => consoleWindow.focus());
    opened.on('closed', () => {
      if (board !== opened) return;
      // Closed by the window system, not by us: the operator must not lose it.
      board = null;
      setImmediate(place);
    });
  }

  function close(): void {
    const closing = board;
    board = null;
    closing?.destroy();
  }

  function recompute(): void {
    const before = on;
    place();
    if (before !== null && on === null) hears.onLost('second monitor lost: the board is closed');
    else if (before === null && on !== null) hears.onFound('second monitor found: the board is open');
    else if (before !== null && on !== null && before.id !== on.id) hears.onLost('board moved to another monitor');
    bringHome(consoleWindow);
  }

  screen.on('display-added', recompute);
  screen.on('display-removed', recompute);
  screen.on('display-metrics-changed', recompute);
  place();
}

/** The display the board is on already, else the first that is not the primary one; displays in order from the left. */
export function boardDisplay(
  displays: readonly Display[],
  primaryId: number,
  presentId: number | null,
): Display | null {
  const others = displays.filter(({ id }) => id !== primaryId);
  const fromLeft = [...others].sort((a, b) => a.bounds.x - b.bounds.x || a.bounds.y - b.bounds.y);
  return others.find(({ id }) => id === presentId) ?? fromLeft[0] ?? null;
}

/** A console whose display went away is brought to the primary one; its keys are needed. */
function bringHome(consoleWindow: BrowserWindow): void {
  const at = consoleWindow.getBounds();
  const visible = screen.getAllDisplays().some(({ bounds }) => overlap(bounds, at));
  if (!visible) consoleWindow.setBounds(screen.getPrimaryDisplay().workArea);
}

type Rectangle = Display['bounds'];

const overlap = (a: Rectangle, b: Rectangle): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

const sameBounds = ({ bounds: a }: Display, { bounds: b }: Display): boolean =>
  a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;
