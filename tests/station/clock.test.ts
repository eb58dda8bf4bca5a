import { describe, expect, test } from 'vitest';
import { type MachineTime, spedClock, steppedClock, systemClock } from '../../electron/station/clock.ts';
import { eventsBetween } from '../../electron/station/watch.ts';

/** A machine whose readings are given: what it says now, until it is told to say something else. */
function machine(readings: { monotonicMs: number; uptimeMs: number | null; wallMs: number }) {
  const now = { ...readings };
  const time: MachineTime = {
    monotonicMs: () => now.monotonicMs,
    uptimeMs: readings.uptimeMs === null ? null : () => now.uptimeMs ?? 0,
    wallMs: () => now.wallMs,
  };
  return { time, set: (next: Partial<typeof readings>) => Object.assign(now, next) };
}

const WALL_MS = Date.UTC(2031, 1, 3, 9);

describe('the clock of the machine', () => {
  test('does not step when wall time does', () => {
    const { time, set } = machine({ monotonicMs: 5000, uptimeMs: 5004, wallMs: WALL_MS });
    const clock = systemClock('boot-one', time);
    expect(clock.now()).toMatchObject({ continuousMs: 5000, wallMs: WALL_MS, boot: 'boot-one' });
    set({ monotonicMs: 6000, uptimeMs: 6001, wallMs: WALL_MS - 3_600_000 });
    expect(clock.now()).toMatchObject({ continuousMs: 6000, wallMs: WALL_MS - 3_600_000 });
  });

  test('counts sleep where the monotonic clock does not', () => {
    const { time, set } = machine({ monotonicMs: 5000, uptimeMs: 5004, wallMs: WALL_MS });
    const clock = systemClock('boot-one', time);
    clock.now();
    set({ monotonicMs: 6000, uptimeMs: 306_000 });
    expect(clock.now().continuousMs).toBe(306_000);
    set({ monotonicMs: 7000, uptimeMs: 306_990 });
    expect(clock.now().continuousMs).toBe(307_000);
  });

  test('agrees with itself after a start anew: sleep before the start is counted too', () => {
    const { time } = machine({ monotonicMs: 6000, uptimeMs: 306_000, wallMs: WALL_MS });
    expect(systemClock('boot-one', time).now().continuousMs).toBe(306_000);
  });

  test('takes an uptime that is behind for no sleep: a container was started anew, the machine was not', () => {
    const { time, set } = machine({ monotonicMs: 900_000, uptimeMs: 20_000, wallMs: WALL_MS });
    const clock = systemClock('boot-one', time);
    expect(clock.now().continuousMs).toBe(900_000);
    set({ monotonicMs: 901_000, uptimeMs: 21_000 });
    expect(clock.now().continuousMs).toBe(901_000);
  });

  test('never goes back, whatever the coarser reading says', () => {
    const { time, set } = machine({ monotonicMs: 0, uptimeMs: 0, wallMs: WALL_MS });
    const clock = systemClock('boot-one', time);
    const seen: number[] = [];
    for (let step = 0; step < 200; step += 1) {
      const monotonicMs = step * 7;
      const sleptMs = step > 100 ? 5000 : 0;
      set({ monotonicMs, uptimeMs: Math.floor((monotonicMs + sleptMs) / 10) * 10 });
      seen.push(clock.now().continuousMs);
    }
    expect(seen).toStrictEqual([...seen].sort((one, other) => one - other));
  });

  test('two clocks of this machine are of one boot and count from the same instant', () => {
    const [one, other] = [systemClock().now(), systemClock().now()];
    expect(other.boot).toBe(one.boot);
    expect(other.continuousMs).toBeGreaterThanOrEqual(one.continuousMs);
  });
});

test('practice time runs faster on both clocks, and belongs to a boot of its own', () => {
  const { time, set } = machine({ monotonicMs: 1000, uptimeMs: null, wallMs: WALL_MS });
  const clock = spedClock(60, systemClock('boot-one', time));
  const start = clock.now();
  set({ monotonicMs: 2000, wallMs: WALL_MS + 1000 });
  const later = clock.now();
  expect(later.continuousMs - start.continuousMs).toBe(60_000);
  expect(later.wallMs - start.wallMs).toBe(60_000);
  expect(start.boot).not.toBe('boot-one');
});

describe('a stepped clock', () => {
  test('stands still until it is moved, and moves wall time with it', () => {
    const clock = steppedClock(0, WALL_MS);
    expect([clock.now(), clock.now()].map(({ continuousMs }) => continuousMs)).toStrictEqual([0, 0]);
    clock.moveTo(90_000);
    expect(clock.now()).toMatchObject({ continuousMs: 90_000, wallMs: WALL_MS + 90_000 });
  });

  test('does not go back', () => {
    const clock = steppedClock(0, WALL_MS);
    clock.moveTo(90_000);
    expect(() => clock.moveTo(89_999)).toThrow(/does not go back/);
  });

  test('is of another boot than any other: it begins at 0 each time', () => {
    expect(steppedClock().now().boot).not.toBe(steppedClock().now().boot);
  });
});

describe('a machine that is busy between two readings of its clocks', () => {
  /** Every reading takes five seconds, and none of them is sleep. */
  function busyMachine() {
    let trueMs = 3_600_000;
    const reading = (): number => {
      trueMs += 5000;
      return trueMs;
    };
    return { monotonicMs: reading, uptimeMs: reading, wallMs: () => Date.UTC(2031, 2, 3) + reading() };
  }

  test.each([1, 100])('is not taken for one that slept, at %d times real time', (rate) => {
    const real = systemClock('boot-one', busyMachine());
    const clock = rate === 1 ? real : spedClock(rate, real);
    const looks = Array.from({ length: 5 }, () => clock.look());
    const seen = looks.slice(1).flatMap((now, index) => eventsBetween(looks[index] ?? now, now));
    expect(seen.filter(({ kind }) => kind === 'slept')).toEqual([]);
  });
});
