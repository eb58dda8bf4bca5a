import { DatabaseSync } from 'node:sqlite';
import { setTimeout as passed } from 'node:timers/promises';
import type { Entry } from '../../core/ledger/entry.ts';
import type { Bench } from './bench.ts';
import { Loss, must } from './loss.ts';
import { cutPower } from './power-cut.ts';

/** A fault that lasts: ended once so many further commands were given under it. */
export interface Lasting {
  readonly commands: number;
  end(): Promise<void>;
}

/** Brings a fault about. Returns what is to be ended later, where it lasts. */
type Fault = (bench: Bench) => Promise<Lasting | null>;

const HOUR_MS = 3_600_000;
const YEAR_MS = 365.25 * 24 * HOUR_MS;

export const FAULTS = {
  killed: async (bench) => {
    await bench.station.kill();
    await bench.start();
    return null;
  },
  'power cut': async (bench) => {
    await cutPower(bench, bench.chance.share() < 0.34);
    return null;
  },
  'disk full': (bench) => disk(bench, 'full'),
  'disk read-only': (bench) => disk(bench, 'read-only'),
  'ledger locked': async (bench) => {
    const other = new DatabaseSync(bench.database);
    other.exec('PRAGMA busy_timeout = 5000; BEGIN EXCLUSIVE');
    return {
      commands: 1 + bench.chance.below(3),
      end: async () => {
        other.exec('ROLLBACK');
        other.close();
      },
    };
  },
  'wall stepped by an hour': (bench) => step(bench, bench.chance.among([-HOUR_MS, HOUR_MS])),
  'wall stepped by years': (bench) => step(bench, bench.chance.among([-3, -1, 1, 9]) * YEAR_MS),
  'zone changed': async (bench) => {
    const zones = ['Asia/Kolkata', 'America/St_Johns', 'Pacific/Apia'].filter(
      (one) => one !== bench.machine.state.zone,
    );
    const zone = bench.chance.among(zones);
    await noticed(bench, 'zone-changed', () => bench.move({ zone }));
    return null;
  },
  slept: (bench) => sleep(bench, (sleptMs) => bench.move({ sleptMs })),
  'slept while no station ran': (bench) =>
    sleep(bench, async (sleptMs) => {
      await bench.station.kill();
      bench.moveUnseen({ sleptMs });
      await bench.start();
    }),
  rebooted: async (bench) => {
    await bench.station.kill();
    bench.reboot();
    await bench.start();
    return null;
  },
} as const satisfies Record<string, Fault>;

export type FaultName = keyof typeof FAULTS;
export const FAULT_NAMES = Object.keys(FAULTS) as FaultName[];

async function disk(bench: Bench, state: 'full' | 'read-only'): Promise<Lasting> {
  await bench.setDisk(state);
  return { commands: 1 + bench.chance.below(3), end: () => bench.setDisk('well') };
}

async function step(bench: Bench, byMs: number): Promise<null> {
  const wallStepMs = bench.machine.state.wallStepMs + byMs;
  const { payload } = await noticed(bench, 'clock-stepped', () => bench.move({ wallStepMs }));
  must(Math.abs(Number(payload.byMs) - byMs) < 1000, () => `a step of ${byMs} ms entered as ${payload.byMs}`);
  return null;
}

async function sleep(bench: Bench, happens: (inAllMs: number) => Promise<void>): Promise<null> {
  const sleptMs = 90_000 + bench.chance.below(120_000);
  const inAllMs = bench.machine.state.sleptMs + sleptMs;
  const { payload } = await noticed(bench, 'slept', () => happens(inAllMs));
  must(
    Math.abs(Number(payload.sleptMs) - sleptMs) < 1000,
    () => `${sleptMs} ms of sleep entered as ${payload.sleptMs}`,
  );
  return null;
}

/** The station looks at its clocks once a second; this is how many times 20 ms it is given to enter what it saw. */
const LOOKS = 1000;

async function noticed(bench: Bench, kind: string, happens: () => Promise<void>): Promise<Entry> {
  const ofKind = (): Entry[] => bench.entries().filter((entry) => entry.kind === kind);
  const before = ofKind().length;
  await happens();
  for (let look = 0; look < LOOKS; look += 1) {
    const entry = ofKind()[before];
    if (entry !== undefined) return entry;
    await passed(20);
  }
  throw new Loss(`the station has not entered that time was moved: ${kind}`);
}
