import { describe, expect, test } from 'vitest';
import type { Cue, SoundName } from '../../core/procedure/cues.ts';
import { cueClock } from '../../renderer/cues/cue-clock.ts';

/** A cue clock on a clock that is moved by hand; `heard` is what sounded, with the instant. */
function onTheBench({ startMs = 0, rate = 1, muteUntilMs = 0 } = {}) {
  let nowMs = startMs;
  const timers = new Set<{ atMs: number; call: () => void }>();
  const heard: [SoundName, number][] = [];
  const slices: number[] = [];
  const clock = cueClock({
    nowMs: () => nowMs,
    rate: () => rate,
    sound: (cue) => {
      if (nowMs < muteUntilMs) return false;
      heard.push([cue.sound, nowMs]);
      return true;
    },
    after: (delayMs, call) => {
      slices.push(delayMs);
      const timer = { atMs: nowMs + delayMs * rate, call };
      timers.add(timer);
      return () => timers.delete(timer);
    },
  });
  /** Runs the clock on to an instant, with every timer on the way. */
  const runTo = (untilMs: number): void => {
    for (let next = soonest(); next !== undefined && next.atMs <= untilMs; next = soonest()) {
      timers.delete(next);
      nowMs = Math.max(nowMs, next.atMs);
      next.call();
    }
    nowMs = untilMs;
  };
  const soonest = () => [...timers].sort((one, other) => one.atMs - other.atMs)[0];
  /** Stands still for a while: timers that came due meanwhile are called late. */
  const sleepTo = (untilMs: number): void => {
    nowMs = untilMs;
    runTo(untilMs);
  };
  return { clock, heard, slices, runTo, sleepTo };
}

const cue = (id: SoundName, dueAtMs: number, sessionId = 'one'): Cue => ({
  id,
  sessionId,
  sound: id,
  dueAtMs,
  words: id,
});

test('a cue sounds at its very instant, and once', () => {
  const { clock, heard, runTo } = onTheBench();
  clock.keep([cue('light-window-open', 10_037)]);
  runTo(60_000);
  clock.keep([cue('light-window-open', 10_037)]);
  runTo(61_000);
  expect(heard).toEqual([['light-window-open', 10_037]]);
});

test('the same cue of two sessions sounds for each', () => {
  const { clock, heard, runTo } = onTheBench();
  clock.keep([cue('infusion-end', 500, 'one'), cue('infusion-end', 500, 'two')]);
  runTo(1000);
  expect(heard).toHaveLength(2);
});

test('a cue whose instant moved sounds at the new one alone', () => {
  const { clock, heard, runTo } = onTheBench();
  clock.keep([cue('infusion-end', 5000)]);
  runTo(4900);
  clock.keep([cue('infusion-end', 9000)]);
  runTo(20_000);
  expect(heard).toEqual([['infusion-end', 9000]]);
});

test('a cue that is taken away does not sound', () => {
  const { clock, heard, runTo } = onTheBench();
  clock.keep([cue('infusion-end', 5000)]);
  runTo(4990);
  clock.keep([]);
  runTo(20_000);
  expect(heard).toEqual([]);
});

test('timers are armed anew at least four times a second', () => {
  const { clock, slices, runTo } = onTheBench();
  clock.keep([cue('infusion-end', 600_000)]);
  runTo(600_000);
  expect(slices.length).toBeGreaterThan(0);
  expect(Math.max(...slices)).toBeLessThanOrEqual(250);
});

test('where the station runs faster than real time, cues keep to the station', () => {
  const { clock, heard, runTo } = onTheBench({ rate: 20 });
  clock.keep([cue('infusion-end', 600_010)]);
  runTo(700_000);
  expect(heard).toEqual([['infusion-end', 600_010]]);
});

describe('late', () => {
  test('a page that loads within 3 s of the instant still sounds the cue', () => {
    const { clock, heard } = onTheBench({ startMs: 12_900 });
    clock.keep([cue('light-window-open', 10_000)]);
    expect(heard).toEqual([['light-window-open', 12_900]]);
  });

  test('a page that loads later than that never does', () => {
    const { clock, heard, runTo } = onTheBench({ startMs: 13_001 });
    clock.keep([cue('light-window-open', 10_000)]);
    runTo(60_000);
    expect(heard).toEqual([]);
  });

  test('nor does a page that was asleep at the instant', () => {
    const { clock, heard, runTo, sleepTo } = onTheBench();
    clock.keep([cue('light-window-2min', 10_000), cue('light-window-open', 130_000)]);
    runTo(9000);
    sleepTo(20_000);
    runTo(200_000);
    expect(heard).toEqual([['light-window-open', 130_000]]);
  });

  test('a cue that could not be sounded is tried again, for 3 s', () => {
    const soon = onTheBench({ muteUntilMs: 11_000 });
    soon.clock.keep([cue('light-window-open', 10_000)]);
    soon.runTo(60_000);
    expect(soon.heard.map(([sound]) => sound)).toEqual(['light-window-open']);
    const never = onTheBench({ muteUntilMs: 14_000 });
    never.clock.keep([cue('light-window-open', 10_000)]);
    never.runTo(60_000);
    expect(never.heard).toEqual([]);
  });
});

test('a stopped clock is silent', () => {
  const { clock, heard, runTo } = onTheBench();
  clock.keep([cue('infusion-end', 5000)]);
  clock.stop();
  runTo(20_000);
  expect(heard).toEqual([]);
});
