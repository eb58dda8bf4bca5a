import { readFileSync } from 'node:fs';
import { hostname, platform, uptime } from 'node:os';
import type { Moment } from '../../core/time/moment.ts';

/** The clock that everything at the station counts with. Handed in, so that practice and tests can bring their own. */
export interface Clock {
  now(): Moment;
  /** How many times faster than real time it runs. */
  readonly rate: number;
}

/** A difference of less than this between the two clocks of Linux is their resolution, not sleep. */
const SLEEP_SEEN_MS = 1000;

const monotonicMs = (): number => Number(process.hrtime.bigint()) / 1e6;

/**
 * Real time. On Linux `process.hrtime` stops while the machine sleeps and `os.uptime` does not: what they are apart is
 * added. Elsewhere `process.hrtime` includes sleep.
 */
export function systemClock(boot = bootIdentity()): Clock {
  const sleeps = platform() === 'linux';
  let sleptMs = 0;
  return {
    rate: 1,
    now: () => {
      const countedMs = monotonicMs();
      if (sleeps) {
        const apartMs = uptime() * 1000 - countedMs;
        if (Math.abs(apartMs - sleptMs) > SLEEP_SEEN_MS) sleptMs = apartMs;
      }
      return momentAt(countedMs + sleptMs, Date.now(), boot);
    },
  };
}

/** Practice time: the same clock, run faster. Its instants are no real ones, so they belong to a boot of their own. */
export function spedClock(rate: number, real: Clock = systemClock()): Clock {
  const start = real.now();
  return {
    rate,
    now: () => {
      const { continuousMs, boot } = real.now();
      const sinceStartMs = (continuousMs - start.continuousMs) * rate;
      return momentAt(continuousMs * rate, start.wallMs + sinceStartMs, `${boot} at ${rate}`);
    },
  };
}

/** A clock that stands still until it is moved: for rehearsals, which take no longer than the work itself. */
export interface SteppedClock extends Clock {
  moveTo(continuousMs: number): void;
}

export function steppedClock(startMs = 0, wallStartMs = Date.now() - startMs): SteppedClock {
  let continuousMs = startMs;
  return {
    rate: 1,
    now: () => momentAt(continuousMs, wallStartMs + continuousMs, 'stepped'),
    moveTo: (toMs) => {
      if (toMs < continuousMs) throw new RangeError(`a clock does not go back: ${toMs} is before ${continuousMs}`);
      continuousMs = toMs;
    },
  };
}

function momentAt(continuousMs: number, wallMs: number, boot: string): Moment {
  const wall = Math.round(wallMs);
  return {
    continuousMs: Math.round(continuousMs * 1000) / 1000,
    boot,
    wallMs: wall,
    offsetMin: -new Date(wall).getTimezoneOffset(),
  };
}

/** What tells one boot of this machine from another. */
function bootIdentity(): string {
  if (platform() === 'linux') return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  const startedMinute = Math.round((Date.now() - uptime() * 1000) / 60_000);
  return `${hostname()} ${startedMinute}`;
}
