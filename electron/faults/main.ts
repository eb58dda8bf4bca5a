import { availableParallelism } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { readScenario } from '../rehearsal/scenario.ts';
import { chanceOf } from './chance.ts';
import { Loss } from './loss.ts';
import { type Ran, runOnce } from './run.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const USAGE = 'npm run --silent faults -- [--runs N] [--seed S] [--from RUN] [--seconds S] [--at-once N]';

const EXIT = { nothingLost: 0, lost: 1, cannotRun: 2 } as const;

interface Campaign {
  readonly runs: number;
  readonly seed: number;
  /** The first run: what a seed did in one run can be seen again alone. */
  readonly from: number;
  /** No run is begun after so long. */
  readonly seconds: number;
  /** How many runs go on at once. */
  readonly atOnce: number;
}

const total = {
  runs: 0,
  seed: 0,
  entries: 0,
  faults: {} as Record<string, number>,
  /** Boundaries between entries that had a fault at least once, of how many there are. */
  boundaries: '',
  dueOffMs: 0,
  rungLateMs: { median: 0, most: 0 },
  lost: null as { run: number; what: string } | null,
};

try {
  process.exitCode = await carryOut(readWords());
} catch (error) {
  const says = error instanceof Error ? error.message : String(error);
  print({ error: says });
  console.error(`faults: ${says}\n${USAGE}`);
  process.exitCode = EXIT.cannotRun;
}

/** Run after run, a few at once, until all are done or something is lost. */
async function carryOut({ runs, seed, from, seconds, atOnce }: Campaign): Promise<number> {
  const steps = readScenario(join(ROOT, 'tests/scenarios/full-session.json'));
  const untilMs = performance.now() + seconds * 1000;
  const touched = new Set<number>();
  const late: number[] = [];
  let next = from;
  let asked = false;
  // Runs under way are ended properly: they have disks mounted. Asked twice, it ends at once.
  process.once('SIGINT', () => {
    asked = true;
  });
  total.seed = seed;

  async function lane(): Promise<void> {
    while (next < from + runs && performance.now() < untilMs && total.lost === null && !asked) {
      const run = next;
      next += 1;
      try {
        add(run, await runOnce(steps, run, chanceOf(seed + run * 7919)));
      } catch (error) {
        const what = error instanceof Loss ? error.message : String(error instanceof Error ? error.stack : error);
        total.lost ??= { run, what };
        console.error(`faults: run ${run}, seed ${seed}: ${what}`);
      }
    }
  }

  function add(run: number, { entries, dueOffMs, rungLateMs, faults, boundaries }: Ran): void {
    total.runs += 1;
    total.entries += entries;
    total.dueOffMs = Math.max(total.dueOffMs, dueOffMs);
    late.push(...rungLateMs);
    for (const [name, count] of Object.entries(faults)) total.faults[name] = (total.faults[name] ?? 0) + count;
    for (const boundary of boundaries) touched.add(boundary);
    console.error(`faults: run ${run}: ${entries} entries; ${Object.keys(faults).join(', ')}`);
  }

  await Promise.all(Array.from({ length: atOnce }, lane));
  late.sort((one, other) => one - other);
  total.rungLateMs = { median: late[Math.floor(late.length / 2)] ?? 0, most: late.at(-1) ?? 0 };
  total.boundaries = `${touched.size} of ${steps.length}`;
  print(total);
  return total.lost === null ? EXIT.nothingLost : EXIT.lost;
}

function readWords(): Campaign {
  const options = {
    runs: { type: 'string', default: '12' },
    seed: { type: 'string', default: String(Date.now() % 1_000_000) },
    from: { type: 'string', default: '0' },
    seconds: { type: 'string', default: '1e9' },
    'at-once': { type: 'string', default: String(Math.min(2, availableParallelism())) },
  } as const;
  const { values } = parseArgs({ options });
  const number = (name: keyof typeof options, least: number): number => {
    const value = Number(values[name]);
    if (!(value >= least)) throw new RangeError(`--${name} is a number from ${least} on, not "${values[name]}"`);
    return value;
  };
  return {
    runs: number('runs', 1),
    seed: number('seed', 0),
    from: number('from', 0),
    seconds: number('seconds', 0),
    atOnce: number('at-once', 1),
  };
}

function print(value: object): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}
