import { randomUUID } from 'node:crypto';
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { CHAIN_START, chainBreak, type Entry } from '../../core/ledger/entry.ts';
import { verify } from '../auditing/reports.ts';
import { readEntries, Unreadable } from '../station/read-file.ts';
import { sha256 } from '../station/sha256.ts';
import type { Bench } from './bench.ts';
import { startStation } from './faulted-station.ts';
import { must } from './loss.ts';
import { commitsIn, logOf } from './write-ahead-log.ts';

/**
 * The power fails: a copy of the files, whose write-ahead log ends at any byte or goes on with noise from there. What
 * lies wholly before that byte is there and nothing else; a station that is started on it goes on.
 */
export async function cutPower(bench: Bench, start: boolean): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-cut-'));
  try {
    const database = join(folder, 'ledger.sqlite3');
    copyFileSync(bench.database, database);
    const log = logOf(bench.database);
    const commits = commitsIn(log);
    const end = commits.at(-1) ?? 0;
    writeFileSync(`${database}-wal`, log);
    const whole = entriesOf(database);
    rmSync(`${database}-shm`, { force: true });
    copyFileSync(bench.database, database);

    const at = bench.chance.below(log.length + 1);
    writeFileSync(`${database}-wal`, cutAt(log, at, bench.chance.share() < 0.5));
    const left = entriesOf(database);
    const wanted = Math.max(0, whole.length - commits.filter((commit) => commit > at).length);
    const says = `a power cut at byte ${at} of ${log.length} (${end} in use)`;
    must(left.length === wanted, () => `${says} left ${left.length} entries instead of ${wanted}`);
    must(
      left.every(({ hash }, index) => hash === whole[index]?.hash),
      () => `${says} changed an entry`,
    );
    const broken = chainBreak(left, sha256, { seq: 0, hash: CHAIN_START });
    must(broken === null, () => `${says}: ${broken}`);
    if (start) await goesOn(bench, folder, left, says);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A log as it may be found after a power cut: what was not synced is not there, or is anything at all. */
function cutAt(log: Buffer, at: number, withNoise: boolean): Buffer {
  if (!withNoise) return log.subarray(0, at);
  const noisy = Buffer.from(log);
  for (let index = at; index < noisy.length; index += 1) noisy[index] = (index * 167 + 13) & 0xff;
  return noisy;
}

/** Where the cut fell before the file was begun, there is no ledger yet. */
function entriesOf(database: string): Entry[] {
  try {
    return readEntries(database);
  } catch (error) {
    if (error instanceof Unreadable) return [];
    throw error;
  }
}

async function goesOn(bench: Bench, folder: string, left: readonly Entry[], says: string): Promise<void> {
  const station = await startStation(bench.machine.state, folder, join(folder, 'emergency'));
  const by = { initials: 'MO', role: 'nurse' } as const;
  const reply = await station.ask({ type: 'open', requestId: randomUUID(), by, command: { kind: 'open-session' } });
  await station.stop();
  const after = readEntries(join(folder, 'ledger.sqlite3'));
  const report = verify(join(folder, 'ledger.sqlite3'), null);
  must(reply.type === 'entered', () => `${says}: the station does not go on`);
  must(
    left.every(({ hash }, index) => hash === after[index]?.hash),
    () => `${says}: starting lost an entry`,
  );
  must(report.sound, () => `${says}: ${JSON.stringify(report.problems)}`);
}
