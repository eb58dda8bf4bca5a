import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { launchNode } from '../../electron/carrier/launch-node.ts';
import { keepStation, type StationKeeper } from '../../electron/carrier/station-keeper.ts';
import { pretendStations } from './pretend-station.ts';

const READY = { ready: { database: 'x', boot: 'b', sessions: 0 } };

let heard: { messages: unknown[]; links: boolean[]; fatals: string[] };
let complaints: string[];

const hears = {
  onMessage: (screen: string, message: unknown) => heard.messages.push({ screen, message }),
  onLink: (up: boolean) => heard.links.push(up),
  onFatal: (says: string) => heard.fatals.push(says),
};

beforeEach(() => {
  heard = { messages: [], links: [], fatals: [] };
  complaints = [];
  vi.spyOn(console, 'error').mockImplementation((words: string) => void complaints.push(words));
});

afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
});

function keepPretended(): { keeper: StationKeeper; stations: ReturnType<typeof pretendStations> } {
  vi.useFakeTimers();
  const stations = pretendStations();
  return { keeper: keepStation(stations.launch, hears), stations };
}

test('a station process that is killed is started again, and the screens are told of both', async () => {
  const entry = join(mkdtempSync(join(tmpdir(), 'dimroom-station-')), 'station.mjs');
  writeFileSync(
    entry,
    `process.send(${JSON.stringify(READY)});
     process.send({ screen: '*', message: process.pid });
     process.on('message', (frame) => { if (frame.stop) process.exit(0); });`,
  );
  const keeper = keepStation(() => launchNode(process.execPath, entry, []), hears);
  await vi.waitFor(() => expect(heard.messages).toHaveLength(1), { timeout: 20_000 });
  process.kill(Number((heard.messages[0] as { message: number }).message), 'SIGKILL');
  await vi.waitFor(() => expect(heard.messages).toHaveLength(2), { timeout: 20_000 });
  expect(heard.links).toEqual([true, false, true]);
  expect(heard.messages[0]).not.toEqual(heard.messages[1]);
  await keeper.stop();
  expect(heard.links).toEqual([true, false, true, false]);
});

test('a station that cannot be started at all is told as an end, and tried again', async () => {
  const keeper = keepStation(() => launchNode(join(tmpdir(), 'no-such-node'), 'x', []), hears);
  await vi.waitFor(() => expect(complaints.length).toBeGreaterThanOrEqual(2), { timeout: 20_000 });
  expect(complaints[0]).toContain('ENOENT');
  await keeper.stop();
});

test('a frame that cannot be read is dropped, and the next one is heard', () => {
  const { stations } = keepPretended();
  for (const frame of [
    'text',
    null,
    { screen: '*' },
    { screen: '*', message: 1, more: 2 },
    { ready: true },
    { x: 1 },
  ]) {
    stations.last().says(frame);
  }
  expect(heard).toEqual({ messages: [], links: [], fatals: [] });
  expect(complaints).toHaveLength(6);
  stations.last().says({ screen: 'page-1', message: { type: 'snapshot' } });
  expect(heard.messages).toEqual([{ screen: 'page-1', message: { type: 'snapshot' } }]);
});

test('a malformed frame does not reach the station', () => {
  const { keeper, stations } = keepPretended();
  stations.last().says(READY);
  expect(keeper.send({ screen: '', message: 1 })).toBe(false);
  expect(keeper.send({ screen: 'x'.repeat(65), message: 1 })).toBe(false);
  expect(keeper.send({ screen: 'page-1', message: 1 })).toBe(true);
  expect(stations.last().heard).toEqual([{ screen: 'page-1', message: 1 }]);
});

test('a message while the station is away is not taken, so that it cannot be carried out late', () => {
  const { keeper, stations } = keepPretended();
  expect(keeper.send({ screen: 'page-1', message: 1 })).toBe(false);
  stations.last().says(READY);
  expect(stations.last().heard).toEqual([]);
});

test('what happened to a window while the station was away is told to the next one', () => {
  const { keeper, stations } = keepPretended();
  stations.last().says(READY);
  stations.last().ends('SIGKILL');
  keeper.report('window-crashed', 'board window failed');
  vi.advanceTimersByTime(0);
  stations.last().says(READY);
  expect(stations.last().heard).toEqual([{ report: { kind: 'window-crashed', words: 'board window failed' } }]);
});

test('the first restart is at once; a station that keeps ending is started ever less often', () => {
  const { stations } = keepPretended();
  const startsWithin = (ms: number): number => {
    const before = stations.started();
    vi.advanceTimersByTime(ms);
    return stations.started() - before;
  };
  for (const waitMs of [0, 250, 500, 1000, 2000, 2000]) {
    stations.last().ends('code 1');
    expect(waitMs === 0 ? 0 : startsWithin(waitMs - 1)).toBe(0);
    expect(startsWithin(waitMs === 0 ? 0 : 1)).toBe(1);
  }
  stations.last().says(READY);
  vi.advanceTimersByTime(10_000);
  stations.last().ends('code 1');
  expect(startsWithin(0)).toBe(1);
});

test('what an ended station still says is not heard', () => {
  const { stations } = keepPretended();
  const first = stations.last();
  first.ends('SIGKILL');
  vi.advanceTimersByTime(0);
  first.says(READY);
  expect(heard.links).toEqual([]);
});

test('why the station cannot work is said once, and forgotten when it works again', () => {
  const { keeper, stations } = keepPretended();
  for (const _again of [1, 2]) {
    stations.last().says({ fatal: 'the disk is full' });
    stations.last().ends('code 3');
    vi.advanceTimersByTime(2000);
  }
  expect(heard.fatals).toEqual(['the disk is full']);
  expect(keeper.fatal).toBe('the disk is full');
  stations.last().says(READY);
  expect(keeper.fatal).toBeNull();
  expect(keeper.up).toBe(true);
});

test('stopping asks the station first, ends it when it does not answer, and starts no other', async () => {
  const { keeper, stations } = keepPretended();
  stations.last().says(READY);
  const stopped = keeper.stop();
  expect(stations.last().heard).toEqual([{ stop: true }]);
  expect(stations.last().killed()).toBe(false);
  vi.advanceTimersByTime(60_000);
  expect(stations.last().killed()).toBe(true);
  await stopped;
  vi.advanceTimersByTime(60_000);
  expect(stations.started()).toBe(1);
});
