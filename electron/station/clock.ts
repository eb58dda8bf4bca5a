import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { hostname, platform, uptime } from 'node:os';
import type { Moment } from '../../core/time/moment.ts';
import type { Look } from './watch.ts';

/** The clock that everything at the station counts with. Handed in, so that practice and tests can bring their own. */
export interface Clock {
  now(): Moment;
  /** All clocks at once, from one reading: what is between two readings must not be taken for sleep. */
  look(): Look;
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
  function look(): Look {
    // Uptime first: a machine that is busy between the two readings makes it look behind, never ahead.
    const uptimeMs = machine.uptimeMs?.() ?? null;
    const awakeMs = machine.monotonicMs();
    const aheadMs = uptimeMs === null ? 0 : uptimeMs - awakeMs;
    if (aheadMs > sleptMs + SLEEP_SEEN_MS) sleptMs = aheadMs;
    return { at: momentAt(awakeMs + sleptMs, machine.wallMs(), boot), awakeMs };
  }
  return { rate: 1, look, now: () => look().at };
}

/** Practice time: the same clock, run faster. Its instants are no real ones, so they belong to a boot of their own. */
export function spedClock(rate: number, real: Clock = systemClock()): Clock {
  const start = real.now();
  function look(): Look {
    const { at, awakeMs } = real.look();
    const sinceStartMs = (at.continuousMs - start.continuousMs) * rate;
    const moment = momentAt(at.continuousMs * rate, start.wallMs + sinceStartMs, `${at.boot} at ${rate}`);
    return { at: moment, awakeMs: awakeMs * rate };
  }
  return { rate, look, now: () => look().at };
}

/** A clock that stands still until it is moved: for rehearsals, which take no longer than the work itself. */
export interface SteppedClock extends Clock {
  moveTo(continuousMs: number): void;
}

export function steppedClock(startMs = 0, wallStartMs = Date.now() - startMs): SteppedClock {
  const boot = `stepped ${randomUUID()}`;
  let continuousMs = startMs;
  const now = (): Moment => momentAt(continuousMs, wallStartMs + continuousMs, boot);
  return {
    rate: 1,
    now,
    look: () => ({ at: now(), awakeMs: continuousMs }),
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
