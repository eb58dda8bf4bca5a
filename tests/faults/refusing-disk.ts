import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { onTestFinished } from 'vitest';
import type { Entry } from '../../core/ledger/entry.ts';
import { emergencyIn, type FaultableStation } from '../station/station-under-test.ts';
import { entered, NURSE, requestOf } from '../station/treatment.ts';

/** A disk, or who else has the file, does not let a ledger be written, until it is mended. */
export interface Refusal {
  readonly name: string;
  readonly why: RegExp;
  begin(station: FaultableStation): Promise<() => Promise<void>>;
}

const byTheDisk = (state: 'full' | 'read-only') => async (station: FaultableStation) => {
  await station.setDisk(state);
  return () => station.setDisk('well');
};

export const REFUSALS: readonly Refusal[] = [
  {
    name: 'locked by another program',
    why: /another program has locked the ledger: close it/,
    begin: async (station) => {
      const other = new DatabaseSync(station.database);
      onTestFinished(() => {
        if (other.isOpen) other.close();
      });
      other.exec('PRAGMA busy_timeout = 10000; BEGIN EXCLUSIVE');
      return async () => {
        other.exec('ROLLBACK');
        other.close();
      };
    },
  },
  { name: 'on a full disk', why: /the disk is full: make room/, begin: byTheDisk('full') },
  {
    name: 'on a read-only disk',
    why: /the ledger cannot be written to: look at its permissions/,
    begin: byTheDisk('read-only'),
  },
];

export const [LOCKED] = REFUSALS as [Refusal, ...Refusal[]];

const LONG = { by: NURSE, command: { kind: 'note', words: 'patient is calm '.repeat(31).trim() } } as const;

/** Notes are given until one waits: a full disk still takes what fits into pages that it has. */
export async function noteUntilWaiting(station: FaultableStation, sessionId: string): Promise<number[]> {
  const seqs: number[] = [];
  while (station.latest().notYetSafe === null) {
    seqs.push(entered(await station.ask(requestOf(station, sessionId, LONG))).seq);
    await station.look();
  }
  return seqs;
}

/** What is kept in the emergency folder of a data folder: its one file, line by line. */
export function keptIn(data: string): { file: string | null; entries: Entry[] } {
  const folder = emergencyIn(data);
  const [name] = existsSync(folder) ? readdirSync(folder).filter((one) => one.endsWith('.jsonl')) : [];
  if (name === undefined) return { file: null, entries: [] };
  const file = join(folder, name);
  const lines = readFileSync(file, 'utf8').split('\n').slice(0, -1);
  return { file, entries: lines.map((line) => JSON.parse(line)) };
}
