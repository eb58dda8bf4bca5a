import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { hostname, platform, uptime } from 'node:os';
import type { Moment } from '../../core/time/moment.ts';

/** The clock that everything at the station counts with. Handed in, so that practice and tests can bring their own. */
export interface Clock {
  now(): Moment;
  /** Milliseconds that do not count sleep, where the machine can tell; else the continuous ones. */
  awakeMs(): number;
  /** How many times faster than real time it runs. */
  readonly rate: number;
}

/** A difference of less than this between the two clocks of Linux is their resolution, not sleep. */
const SLEEP_SEEN_MS = 1000;

/** What the machine tells of time. `uptimeMs` is null where the monotonic clock counts sleep by itself. */
export interface MachineTime {
  monotonicMs(): number;
  readonly uptimeMs: (() => number) | null;
  wallMs(): number;
}

const THIS_MACHINE: MachineTime = {
  monotonicMs: () => Number(process.hrtime.bigint()) / 1e6,
  uptimeMs: platform() === 'linux' ? () => uptime() * 1000 : null,
  wallMs: () => Date.now(),
};

/**
 * Real time. On Linux `process.hrtime` stops while the machine sleeps and `os.uptime` does not: what it is ahead is
 * added. Elsewhere `process.hrtime` includes sleep. An uptime that is behind is that of a container, and no sleep.
 */
export function systemClock(boot = bootIdentity(), machine = THIS_MACHINE): Clock {
  let sleptMs = 0;
  return {
    rate: 1,
    awakeMs: () => machine.monotonicMs(),
    now: () => {
      const countedMs = machine.monotonicMs();
      const aheadMs = machine.uptimeMs === null ? 0 : machine.uptimeMs() - countedMs;
      if (aheadMs > sleptMs + SLEEP_SEEN_MS) sleptMs = aheadMs;
      return momentAt(countedMs + sleptMs, machine.wallMs(), boot);
    },
  };
}

/** Practice time: the same clock, run faster. Its instants are no real ones, so they belong to a boot of their own. */
export function spedClock(rate: number, real: Clock = systemClock()): Clock {
  const start = real.now();
  return {
    rate,
    awakeMs: () => real.awakeMs() * rate,
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
  const boot = `stepped ${randomUUID()}`;
  let continuousMs = startMs;
  return {
    rate: 1,
    awakeMs: () => continuousMs,
    now: () => momentAt(continuousMs, wallStartMs + continuousMs, boot),
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
