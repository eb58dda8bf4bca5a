import { readFileSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { rehearse } from '../../../electron/rehearsal/rehearse.ts';
import { readScenario } from '../../../electron/rehearsal/scenario.ts';
import { startStation } from '../../../electron/rehearsal/station-pipe.ts';
import { newFolder } from '../../screens/browser-carrier.ts';
import { type Row, rowOf } from './row.ts';

const STATION = resolve(import.meta.dirname, '../../../dist/station/main.mjs');
const KIB = 1024;
const DAY_MS = 86_400_000;
const TREATMENT = readScenario(resolve(import.meta.dirname, '../../scenarios/full-session.json'));

/** What the station holds of memory over a day of treatments on a stepped clock: a usual day, and a tenfold one. */
export async function dayLong(): Promise<Row[]> {
  const usual = await day(6);
  const tenfold = await day(60);
  const last = usual.at(-1) ?? Number.NaN;
  return [
    rowOf('memory of the station over a day, 6 treatments', 'MiB', usual, {
      beside: { what: 'before the first', median: usual[0] ?? Number.NaN },
      tenfold: { of: '60 treatments, at the end of the day', ratio: (tenfold.at(-1) ?? Number.NaN) / last },
    }),
  ];
}

/** Resident memory before the day, after each treatment, and at its end, MiB. */
async function day(treatments: number): Promise<number[]> {
  const folder = newFolder();
  const words = ['--data', folder, '--practice', '--stepped', '--emergency', join(folder, 'emergency')];
  const station = await startStation(process.execPath, STATION, words);
  try {
    const all = [residentMib(station.pid)];
    for (let count = 0; count < treatments; count += 1) {
      const startMs = Math.round((count / treatments) * DAY_MS);
      const { refused } = await rehearse(TREATMENT, station, (atS) => station.advanceTo(startMs + atS * 1000));
      if (refused !== null) throw new Error(`treatment ${count + 1}: ${JSON.stringify(refused)}`);
      all.push(residentMib(station.pid));
    }
    return all;
  } finally {
    await station.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

function residentMib(pid: number): number {
  const kib = /^VmRSS:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  return Number(kib) / KIB;
}
