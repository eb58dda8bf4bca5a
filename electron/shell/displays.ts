import { type BrowserWindow, type Display, screen } from 'electron';
import type { BoardPlace } from '../../core/protocol/bridge.ts';
import { boardWindow } from './board-window.ts';
import type { HomesFile } from './homes-file.ts';
import { type Homes, keptOf, type Placement, placementOf } from './placement.ts';
import { moveConsole, openConsole } from './windows.ts';

interface Hears {
  onBoardOpened(board: BrowserWindow): void;
  /** Where the board is; heard at the start and on every change. */
  onPlace(place: BoardPlace): void;
  onReport(kind: 'display-lost' | 'display-found' | 'display-swapped', words: string): void;
}

export interface Displays {
  readonly console: BrowserWindow;
  /** Console and board change places, for this and every later start. False where there is nothing to change with. */
  swap(): boolean;
}

/** The console, and a board on a second display, each where it belongs, whatever becomes of the displays. */
export function openOnDisplays(file: HomesFile, hears: Hears): Displays {
  let homes = file.read();
  let at = placementNow(homes);
  let hadBoard = false;
  const consoleWindow = openConsole(at.console);
  const board = boardWindow({ onOpened: hears.onBoardOpened, onFocus: giveKeysBack });

  function giveKeysBack(): void {
    if (!consoleWindow.isDestroyed()) consoleWindow.focus();
  }

  /** Moves what is not where it belongs, and leaves alone what is. */
  function place(): void {
    const before = at;
    at = placementNow(homes);
    if (before.console.id !== at.console.id || isOffDisplays(consoleWindow)) moveConsole(consoleWindow, at.console);
    board.showOn(at.board);
    hadBoard ||= at.board !== null;
    hears.onPlace(at.board !== null ? 'second monitor' : hadBoard ? 'second monitor lost' : 'no second monitor');
    keepFirst();
  }

  /** What was chosen at the first start with two displays holds until a swap: it is not what happens to be there. */
  function keepFirst(): void {
    if (at.board === null || homes.board !== null) return;
    homes = { console: keptOf(at.console), board: keptOf(at.board) };
    file.write(homes);
  }

  function recompute(): void {
    if (consoleWindow.isDestroyed()) return;
    const before = at;
    place();
    const told = changeWords(before, at);
    if (told !== null) hears.onReport(told.kind, told.words);
  }

  function swap(): boolean {
    if (at.board === null) return false;
    homes = { console: keptOf(at.board), board: keptOf(at.console) };
    file.write(homes);
    place();
    hears.onReport('display-swapped', `console on ${nameOf(at.console)}; board on ${nameOf(at.board)}`);
    return true;
  }

  screen.on('display-added', recompute);
  screen.on('display-removed', recompute);
  screen.on('display-metrics-changed', recompute);
  place();
  return { console: consoleWindow, swap };
}

const placementNow = (homes: Homes): Placement<Display> =>
  placementOf(screen.getAllDisplays(), screen.getPrimaryDisplay().id, homes);

/** What happened to the board's display, for the ledger; null where nothing did. */
function changeWords({ board: before }: Placement<Display>, { board: now }: Placement<Display>) {
  if (before === null && now === null) return null;
  if (now === null) return { kind: 'display-lost', words: 'the board is a strip on the console' } as const;
  if (before === null) return { kind: 'display-found', words: `the board is open on ${nameOf(now)}` } as const;
  if (before.id === now.id) return null;
  const stillThere = screen.getAllDisplays().some(({ id }) => id === before.id);
  const words = `the board moved from ${nameOf(before)} to ${nameOf(now)}`;
  return { kind: stillThere ? 'display-found' : 'display-lost', words } as const;
}

function nameOf({ label, internal, size }: Display): string {
  const name = label !== '' ? label : internal ? 'the built-in display' : 'a display';
  return `${name}, ${size.width} × ${size.height}`;
}

/** Whether no display shows any of a window: its keys are needed. */
function isOffDisplays(window: BrowserWindow): boolean {
  const at = window.getBounds();
  return !screen.getAllDisplays().some(({ bounds }) => overlap(bounds, at));
}

type Rectangle = Display['bounds'];

const overlap = (a: Rectangle, b: Rectangle): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
