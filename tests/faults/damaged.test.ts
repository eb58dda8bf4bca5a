import { createHash, randomBytes } from 'node:crypto';
import { existsSync, openSync, readdirSync, readFileSync, writeFileSync, writeSync } from 'node:fs';
import { basename, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { brokenAt, entriesIn, type FoundEntry, kindsIn } from '../station/independent-reading.ts';
import { emergencyIn, newFolder, startFaultable, startStation } from '../station/station-under-test.ts';
import { entered, NURSE, open, requestOf, treat, upTo } from '../station/treatment.ts';

const PAGE_BYTES = 4096;
const NOTE = { by: NURSE, command: { kind: 'note', words: 'patient is calm' } } as const;

/** A ledger of one session under way, in a folder that no station holds: ended by itself, or killed. */
async function ledgerIn(data: string, how: 'stop' | 'kill'): Promise<{ file: string; entries: FoundEntry[] }> {
  const station = await startStation(data);
  const { sessionId } = await open(station);
  await treat(station, sessionId, upTo('prime-line'));
  await station[how]();
  if (how === 'stop') takeIn(station.database);
  const before = filesIn(data);
  const entries = entriesIn(station.database);
  // Looking at it by another library has its own traces in SQLite's files; they are put back.
  for (const [name, bytes] of before) writeFileSync(join(data, name), bytes);
  return { file: station.database, entries };
}

/** Has everything in the one file: a log that a reader kept open would mend what a test damages. */
function takeIn(file: string): void {
  const db = new DatabaseSync(file);
  db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  db.close();
}

/** The same, as names and hashes. */
const bytesOf = (folder: string): [name: string, hash: string][] =>
  filesIn(folder).map(([name, bytes]) => [name, createHash('sha256').update(bytes).digest('hex')]);

/** What holds entries: the ledger and its write-ahead log. */
function filesIn(folder: string): [name: string, bytes: Buffer][] {
  const names = readdirSync(folder).filter((name) => /^ledger\.sqlite3(-wal)?$/.test(name));
  return names.sort().map((name) => [name, readFileSync(join(folder, name))]);
}

function writeOver(file: string, fromByte: number, bytes: Buffer): void {
  writeSync(openSync(file, 'r+'), bytes, 0, bytes.length, fromByte);
}

const pagesOf = (file: string): number => readFileSync(file).length / PAGE_BYTES;

const DAMAGES: Record<string, (file: string) => void> = {
  'the whole file is junk': (file) => writeFileSync(file, randomBytes(5 * PAGE_BYTES)),
  'the whole first page is junk': (file) => writeOver(file, 0, randomBytes(PAGE_BYTES)),
  'the first page is written over behind the header': (file) => writeOver(file, 100, Buffer.alloc(3996, 0xa5)),
  'the last page is written over': (file) =>
    writeOver(file, (pagesOf(file) - 1) * PAGE_BYTES, Buffer.alloc(PAGE_BYTES, 0xa5)),
  'every second page is zeros': (file) => {
    for (let page = 1; page < pagesOf(file); page += 2) writeOver(file, page * PAGE_BYTES, Buffer.alloc(PAGE_BYTES));
  },
  'the second half is cut off': (file) =>
    writeFileSync(file, readFileSync(file).subarray(0, Math.floor(pagesOf(file) / 2) * PAGE_BYTES)),
};

describe.each(Object.entries(DAMAGES))('%s', (_name, damage) => {
  test('the file is set aside byte for byte, a new one is begun and cites it, and nothing is claimed of it', async () => {
    const data = newFolder();
    const { file, entries } = await ledgerIn(data, 'stop');
    damage(file);
    const before = bytesOf(data);
    const station = await startStation(data);

    const [aside = ''] = readdirSync(data).filter((name) => name.startsWith('damaged-'));
    expect(bytesOf(join(data, aside))).toStrictEqual(before);
    expect(brokenAt(entriesIn(file))).toStrictEqual([]);
    const [first, , cited] = entriesIn(file);
    expect(first).toMatchObject({ seq: 1, kind: 'station-started', payload: { first: true } });
    expect(first?.payload.file).not.toBe(entries[0]?.payload.file);
    expect(cited).toMatchObject({ kind: 'damaged-set-aside', payload: { folder: join(data, aside) } });
    const last = cited?.payload.lastReadable as { seq: number; hash: string } | null;
    if (last !== null) expect(entries.find(({ seq }) => seq === last.seq)?.hash).toBe(last.hash);

    expect(station.takenUp).toBe(0);
    expect(station.latest().sessions).toStrictEqual([]);
    expect(station.latest().trouble.join()).toContain(`set aside in ${join(data, aside)}`);
    await open(station);
  });
});

test('a page amid the entries is written over: the last entry before it is cited', async () => {
  const data = newFolder();
  const { file, entries } = await ledgerIn(data, 'stop');
  const page = pageHolding(file, entries[Math.floor(entries.length / 2)]?.hash ?? '');
  writeOver(file, page * PAGE_BYTES, Buffer.alloc(PAGE_BYTES, 0xa5));
  const station = await startStation(data);
  const cited = entriesIn(file).find(({ kind }) => kind === 'damaged-set-aside');
  const last = cited?.payload.lastReadable as { seq: number; hash: string };
  expect(last.seq).toBeGreaterThan(0);
  expect(last.seq).toBeLessThan(entries.length);
  expect(last.hash).toBe(entries[last.seq - 1]?.hash);
  await station.stop();
});

test('a killed station leaves its log beside the ledger: both are set aside as they were', async () => {
  const data = newFolder();
  const { file } = await ledgerIn(data, 'kill');
  expect(existsSync(`${file}-wal`)).toBe(true);
  writeFileSync(file, randomBytes(8 * PAGE_BYTES));
  writeOver(`${file}-wal`, 0, randomBytes(32));
  const before = bytesOf(data);
  await startStation(data);
  const [aside = ''] = readdirSync(data).filter((name) => name.startsWith('damaged-'));
  expect(bytesOf(join(data, aside))).toStrictEqual(before);
  expect(before.map(([name]) => name)).toStrictEqual([basename(file), `${basename(file)}-wal`]);
});

test('a second damage is set aside beside the first', async () => {
  const data = newFolder();
  for (const times of [1, 2]) {
    const { file } = await ledgerIn(data, 'stop');
    writeFileSync(file, randomBytes(PAGE_BYTES));
    await (await startStation(data)).stop();
    expect(readdirSync(data).filter((name) => name.startsWith('damaged-'))).toHaveLength(times);
  }
});

test('damaged under a running station: steps go on, and every byte of them is kept for those who look into it', async () => {
  const data = newFolder();
  const { file } = await ledgerIn(data, 'stop');
  const station = await startFaultable(data);
  const sessionId = station.latest().sessions[0]?.sessionId ?? '';
  for (let page = 1; page < pagesOf(file); page += 1) writeOver(file, page * PAGE_BYTES, randomBytes(PAGE_BYTES));
  const given: string[] = [];
  for (let count = 0; count < 12; count += 1) {
    const request = requestOf(station, sessionId, NOTE);
    entered(await station.ask(request));
    given.push(request.requestId);
    await station.look();
  }
  await station.kill();

  const next = await startFaultable(data, station.machine());
  const [aside = ''] = readdirSync(data).filter((name) => name.startsWith('damaged-'));
  expect(next.latest().trouble.join()).toContain(`set aside in ${join(data, aside)}`);
  expect(next.latest().sessions).toStrictEqual([]);
  const kept = [...filesIn(join(data, aside)).map(([, bytes]) => bytes), ...emergencyFilesIn(data)];
  expect(given.filter((requestId) => !kept.some((bytes) => bytes.includes(requestId)))).toStrictEqual([]);
});

test('an entry that was changed behind its back is no damage: the file stays, and what is wrong is said', async () => {
  const data = newFolder();
  const { file } = await ledgerIn(data, 'stop');
  const text = Buffer.from('A1027');
  writeOver(file, readFileSync(file).indexOf(text), Buffer.from('A1028'));
  const station = await startStation(data);
  await station.when(({ trouble }) => trouble.length > 0);
  expect(station.latest().trouble.join()).toMatch(/chain does not hold: entry \d+ was changed after it was written/);
  expect(readdirSync(data).filter((name) => name.startsWith('damaged-'))).toStrictEqual([]);
  expect(kindsIn(file)).toContain('chain-broken');
});

/** The page of a file that holds an entry: found by its hash among the table's pages. */
function pageHolding(file: string, hash: string): number {
  const bytes = readFileSync(file);
  const tableLeaf = 0x0d;
  for (let at = bytes.indexOf(hash); at >= 0; at = bytes.indexOf(hash, at + 1)) {
    const page = Math.floor(at / PAGE_BYTES);
    if (bytes[page * PAGE_BYTES] === tableLeaf) return page;
  }
  throw new Error('no page holds that entry');
}

function emergencyFilesIn(data: string): Buffer[] {
  const folder = emergencyIn(data);
  return existsSync(folder) ? readdirSync(folder).map((name) => readFileSync(join(folder, name))) : [];
}
