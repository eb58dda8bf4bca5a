import { readFileSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { newRequestId, startStation } from '../../../electron/rehearsal/station-pipe.ts';
import { newFolder } from '../../screens/browser-carrier.ts';
import { TREATMENT } from '../../station/treatment.ts';
import { type Row, rowOf } from './row.ts';

const STATION = resolve(import.meta.dirname, '../../../dist/station/main.mjs');
const KIB = 1024;
const DAY_S = 86_400;
const OPENER = { initials: 'MO', role: 'nurse' } as const;

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
  const all = [residentMib(station.pid)];
  for (let count = 0; count < treatments; count += 1) {
    const startMs = station.latest().nowMs;
    const opened = await station.ask({
      type: 'open',
      requestId: newRequestId(),
      by: OPENER,
      command: { kind: 'open-session' },
    });
    if (opened.type !== 'entered') throw new Error(JSON.stringify(opened));
    let { seq } = opened;
    for (const { atS, by, command } of TREATMENT) {
      await station.advanceTo(startMs + atS * 1000);
      const { sessionId } = opened;
      const given = await station.ask({ type: 'command', requestId: newRequestId(), sessionId, seq, by, command });
      if (given.type !== 'entered') throw new Error(JSON.stringify(given));
      seq = given.seq;
    }
    await station.advanceTo(Math.max(station.latest().nowMs, startMs + (DAY_S / treatments) * 1000));
    all.push(residentMib(station.pid));
  }
  await station.stop();
  rmSync(folder, { recursive: true, force: true });
  return all;
}

function residentMib(pid: number): number {
  const kib = /^VmRSS:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  return Number(kib) / KIB;
}
