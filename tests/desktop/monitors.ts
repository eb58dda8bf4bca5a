import { execFileSync } from 'node:child_process';

/** A monitor of an X display, by the socket it is on. */
export interface Monitor {
  readonly socket: string;
  readonly mode: string;
  readonly bounds: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

/** Nobody looks at the dummy driver's monitors. Those of a person at a desk are left alone. */
const DUMMY = /^DUMMY\d+$/;

/** The monitors that are plugged in, from the left; none where they may not be unplugged. */
export function pluggedIn(): readonly Monitor[] {
  const found = monitorsIn(asked([]));
  return found.every(({ socket }) => DUMMY.test(socket)) ? found : [];
}

/** As good as pulling the plug: the server tells every program that the monitor is gone. */
export const unplug = ({ socket }: Monitor): string => asked(['--output', socket, '--off']);

/** Plugs a monitor in, or changes its mode or place. The leftmost is the primary one. */
export function plugIn({ socket, mode, bounds: { x, y } }: Monitor): void {
  asked(['--output', socket, '--mode', mode, '--pos', `${x}x${y}`, ...(x === 0 ? ['--primary'] : [])]);
  // The server takes a socket for empty until it is asked what is on it.
  asked([]);
}

/** Another monitor of the same make at the right end, not plugged in yet, on a socket that is free. */
export function anotherLike({ mode, bounds }: Monitor, socket: string): Monitor {
  asked(['--addmode', socket, mode]);
  return { socket, mode, bounds: { ...bounds, x: bounds.x + bounds.width } };
}

/** The same monitor, turned upright. The dummy driver cannot rotate: it is given a mode as high as it was wide. */
export function upright(monitor: Monitor): Monitor {
  const { width, height } = monitor.bounds;
  const mode = `upright${height}`;
  if (!asked([]).includes(mode)) asked(['--newmode', mode, ...timingOf(height, width)]);
  asked(['--addmode', monitor.socket, mode]);
  return { ...monitor, mode, bounds: { ...monitor.bounds, width: height, height: width } };
}

/** Sync and blanking that no monitor has to like. */
const timingOf = (width: number, height: number): string[] => {
  const across = [width, width + 48, width + 92, width + 240];
  const down = [height, height + 4, height + 9, height + 45];
  return ['148.5', ...[...across, ...down].map(String)];
};

function asked(words: readonly string[]): string {
  try {
    return execFileSync('xrandr', words, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  } catch {
    if (words.length > 0) throw new Error(`xrandr ${words.join(' ')} failed`);
    return '';
  }
}

function monitorsIn(told: string): Monitor[] {
  let monitor: Omit<Monitor, 'mode'> | null = null;
  const monitors: Monitor[] = [];
  for (const line of told.split('\n')) {
    const head = /^(\S+) (?:dis)?connected(?: primary)?(?: (\d+)x(\d+)\+(\d+)\+(\d+))?/.exec(line);
    const mode = /^\s+(\S+)\s.*\*/.exec(line);
    if (head !== null) {
      const [, socket = '', width, height, x, y] = head;
      const bounds = { x: Number(x), y: Number(y), width: Number(width), height: Number(height) };
      monitor = width === undefined ? null : { socket, bounds };
    } else if (mode !== null && monitor !== null) monitors.push({ ...monitor, mode: mode[1] ?? '' });
  }
  return monitors.sort((a, b) => a.bounds.x - b.bounds.x);
}
