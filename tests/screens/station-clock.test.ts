import { describe, expect, test } from 'vitest';
import { StationClock } from '../../renderer/link/station-clock.ts';

const heard = (nowMs: number, rate = 1, boot = 'boot-one') => ({ nowMs, rate, boot });

describe('the station clock as a page knows it', () => {
  test('before the first snapshot there is no time', () => {
    expect(new StationClock().at(5_000)).toBe(0);
  });

  test('it runs on between snapshots, at the pace of the station', () => {
    const clock = new StationClock();
    clock.hear(heard(100_000, 4), 1_000);
    expect(clock.at(1_000)).toBe(100_000);
    expect(clock.at(1_500)).toBe(102_000);
  });

  test('of the recent snapshots the one that came fastest is believed', () => {
    const clock = new StationClock();
    clock.hear(heard(100_000), 1_200);
    clock.hear(heard(101_000), 2_005);
    clock.hear(heard(102_000), 3_400);
    expect(clock.at(3_400)).toBe(102_395);
  });

  test('a snapshot that came late does not take a second back', () => {
    const clock = new StationClock();
    clock.hear(heard(100_000), 1_000);
    const before = clock.at(40_000);
    // The first is forgotten by now; this one took 800 ms.
    clock.hear(heard(139_000), 40_800);
    expect(before).toBe(139_000);
    expect(clock.at(40_800)).toBe(139_000);
    expect(clock.at(41_800)).toBe(140_000);
  });

  test('time that the station slept through is taken up at once', () => {
    const clock = new StationClock();
    clock.hear(heard(100_000), 1_000);
    clock.hear(heard(700_000), 2_000);
    expect(clock.at(2_000)).toBe(700_000);
  });

  test('another boot is another clock, also where it reads less', () => {
    const clock = new StationClock();
    clock.hear(heard(900_000), 1_000);
    expect(clock.at(2_000)).toBe(901_000);
    clock.hear(heard(50_000, 1, 'boot-two'), 3_000);
    expect(clock.at(3_000)).toBe(50_000);
  });
});
