import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { keepStation, type StationKeeper } from '../../electron/carrier/station-keeper.ts';
import { pretendStations } from './pretend-station.ts';

const READY = { ready: { database: 'x', boot: 'b', sessions: 0 } };
const VAIN = /^the station ends whenever it is started \(code 1\): close Dimroom and start it again/;

let fatals: string[];
let keeper: StationKeeper;
let stations: ReturnType<typeof pretendStations>;

beforeEach(() => {
  vi.useFakeTimers();
  vi.spyOn(console, 'error').mockImplementation(() => {});
  fatals = [];
  stations = pretendStations();
  const hears = { onMessage: () => {}, onLink: () => {}, onFatal: (says: string) => fatals.push(says) };
  keeper = keepStation(stations.launch, hears);
});
afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
});

/** The present station ends, and the next one is started. */
function endsAndIsStartedAgain(): void {
  stations.last().ends('code 1');
  vi.advanceTimersByTime(2000);
}

test('a station that ends whenever it is started is told of once, and started all the same', () => {
  for (const told of [0, 0, 1, 1, 1]) {
    endsAndIsStartedAgain();
    expect(fatals).toHaveLength(told);
  }
  expect(fatals[0]).toMatch(VAIN);
  expect(keeper.fatal).toBe(fatals[0]);
  expect(stations.started()).toBe(6);
});

test('one that works after all takes it back', () => {
  for (let starts = 0; starts < 3; starts += 1) endsAndIsStartedAgain();
  stations.last().says(READY);
  expect(keeper.fatal).toBeNull();
});

test('one that worked in between is not such a one', () => {
  for (let starts = 0; starts < 6; starts += 1) {
    if (starts % 2 === 0) stations.last().says(READY);
    endsAndIsStartedAgain();
  }
  expect(fatals).toEqual([]);
});

test('what a station says itself of why it cannot work is not said over', () => {
  for (let starts = 0; starts < 5; starts += 1) {
    stations.last().says({ fatal: 'the disk is gone: plug it in' });
    endsAndIsStartedAgain();
  }
  expect(fatals).toEqual(['the disk is gone: plug it in']);
});
