import { type FromStation, fromStationSchema, type ToStation, toStationSchema } from '../../core/protocol/frames.ts';
import type { Launch, StationProcess } from './station-process.ts';

export interface KeeperHears {
  /** A message for one screen, or for `*`, all of them. */
  onMessage(screen: string, message: unknown): void;
  /** Whether the ledger can be reached. */
  onLink(up: boolean): void;
  /** The station cannot work: why, and what to do. Heard once for each different sentence. */
  onFatal(says: string): void;
}

export interface StationKeeper {
  /** Passes a frame on. False when the station is not there to take it: nothing was carried out. */
  send(frame: ToStation): boolean;
  /** Tells the ledger what happened to a window or a display; waits for the station where it is away. */
  report(kind: Report['kind'], words: string): void;
  readonly up: boolean;
  /** Why the station cannot work, until it works again. */
  readonly fatal: string | null;
  /** Lets the station close its ledger; ends it when it does not. */
  stop(): Promise<void>;
}

type Report = Extract<ToStation, { report: unknown }>['report'];

/** The first restart is at once; one that keeps ending is started ever less often. */
const RESTART_AFTER_MS = [0, 250, 500, 1000, 2000] as const;
const SLOWEST_RESTART_MS = 2000;
/** Having worked this long, its next end counts as a first one. */
const SETTLED_MS = 10_000;
/** A station that ended this often in a row without having worked is told of as one that cannot work. */
const MOST_VAIN_STARTS = 3;
const STOP_WAIT_MS = 5000;
const MOST_REPORTS_WAITING = 50;

/** Starts the station and starts it again whenever it ends, until `stop`. */
export function keepStation(launch: Launch, hears: KeeperHears): StationKeeper {
  let station: StationProcess | null = null;
  let up = false;
  let fatal: string | null = null;
  let ends = 0;
  let vainStarts = 0;
  let stopping = false;
  let retry: ReturnType<typeof setTimeout> | undefined;
  let settled: ReturnType<typeof setTimeout> | undefined;
  let ended: (() => void) | undefined;
  const waiting: Report[] = [];

  function start(): void {
    const mine = launch();
    station = mine;
    mine.onFrame((data) => {
      if (station === mine) hear(data);
    });
    mine.onEnd((how) => {
      if (station === mine) restart(how);
    });
  }

  function restart(how: string): void {
    station = null;
    clearTimeout(settled);
    vainStarts = up ? 0 : vainStarts + 1;
    setUp(false);
    ended?.();
    if (stopping) return;
    if (fatal === null) console.error(`the station ended (${how}) and is started again`);
    if (vainStarts >= MOST_VAIN_STARTS && fatal === null) tellFatal(endsAlways(how));
    const waitMs = RESTART_AFTER_MS[ends] ?? SLOWEST_RESTART_MS;
    ends += 1;
    retry = setTimeout(start, waitMs);
  }

  function hear(data: unknown): void {
    const frame = fromStationSchema.safeParse(data);
    if (frame.success) take(frame.data);
    else console.error('a frame from the station could not be read and was dropped');
  }

  function take(frame: FromStation): void {
    if ('ready' in frame) {
      fatal = null;
      settled = setTimeout(() => {
        ends = 0;
      }, SETTLED_MS);
      setUp(true);
      for (const report of waiting.splice(0)) send({ report });
    } else if ('fatal' in frame) {
      tellFatal(frame.fatal);
    } else if ('screen' in frame) {
      hears.onMessage(frame.screen, frame.message);
    }
  }

  function tellFatal(says: string): void {
    if (says === fatal) return;
    fatal = says;
    console.error(`the station cannot work: ${says}`);
    hears.onFatal(says);
  }

  function setUp(now: boolean): void {
    if (up === now) return;
    up = now;
    hears.onLink(up);
  }

  function send(frame: ToStation): boolean {
    if (station === null || !up) return false;
    const checked = toStationSchema.safeParse(frame);
    if (checked.success) station.send(checked.data);
    else console.error('a frame to the station was malformed and was dropped');
    return checked.success;
  }

  async function stop(): Promise<void> {
    stopping = true;
    clearTimeout(retry);
    const last = station;
    if (last === null) return;
    const gone = new Promise<void>((resolve) => {
      ended = resolve;
    });
    const tooLong = setTimeout(() => last.kill(), STOP_WAIT_MS);
    last.send({ stop: true } satisfies ToStation);
    await gone;
    clearTimeout(tooLong);
  }

  start();
  return {
    send,
    report: (kind, words) => {
      const report: Report = { kind, words: words.slice(0, 300) };
      if (!send({ report }) && waiting.length < MOST_REPORTS_WAITING) waiting.push(report);
    },
    get up() {
      return up;
    },
    get fatal() {
      return fatal;
    },
    stop,
  };
}

const endsAlways = (how: string): string =>
  `the station ends whenever it is started (${how}): close Dimroom and start it again; where that does not help, ` +
  'install it again. The ledger is left as it is';
