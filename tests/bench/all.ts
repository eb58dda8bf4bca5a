import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { HAS_DESKTOP } from '../desktop/desktop.ts';
import { atScale } from './table/at-scale.ts';
import { coldStart } from './table/cold-start.ts';
import { counting } from './table/counting.ts';
import { dayLong } from './table/day-long.ts';
import { keyToBoard } from './table/key-to-board.ts';
import { type Lacking, type Row, rowOf, tableOf } from './table/row.ts';
import { signingIn } from './table/signing-in.ts';

/*
 * Everything that is measured, in one run and one table: `npm run bench -- [--sessions N] [--json FILE] [--quick]`.
 * Medians, and ratios to the same work done barely in the same run; nothing is judged. What this machine lacks is named.
 * `--quick` leaves out what takes minutes: the onsets of cues, the board's drift, and search at scale.
 */
const { values } = parseArgs({
  options: {
    sessions: { type: 'string', default: '1000' },
    json: { type: 'string' },
    quick: { type: 'boolean', default: false },
  },
});

const PARTS: readonly [name: string, long: boolean, measure: () => (Row | Lacking)[] | Promise<(Row | Lacking)[]>][] = [
  ['cold start', false, coldStart],
  ['key to board', false, keyToBoard],
  ['signing in', false, signingIn],
  ['counting', false, counting],
  ['a day', false, dayLong],
  ['scale', true, () => atScale(Number(values.sessions))],
  ['drift', true, drift],
  ['onsets', true, onsets],
];

const rows: Row[] = [];
const lacking: Lacking[] = [];
for (const [name, long, measure] of PARTS) {
  if (long && values.quick) continue;
  console.error(`measuring: ${name}`);
  try {
    for (const one of await measure()) 'why' in one ? lacking.push(one) : rows.push(one);
  } catch (error) {
    lacking.push({ what: name, why: error instanceof Error ? error.message : String(error) });
  }
}

console.log(tableOf(rows));
for (const { what, why } of lacking) console.log(`not measured: ${what}: ${why}`);
console.log(`${cpus().length} cores, load ${loadavg()[0]?.toFixed(1)} at the end`);
if (values.json !== undefined) writeFileSync(values.json, `${JSON.stringify({ rows, lacking }, null, 2)}\n`);

interface DriftFigures {
  readonly conditions: readonly { condition: string; flips: number; medianMs: number; p95Ms: number; mostMs: number }[];
}

function drift(): (Row | Lacking)[] {
  const what = 'board against due instant';
  if (!HAS_DESKTOP) return [{ what, why: 'no Electron or no display here' }];
  const figures = outputOf<DriftFigures>('drift.ts', '1');
  return figures.conditions.map(({ condition, flips, medianMs, p95Ms }) => ({
    what: `${what}, ${condition}`,
    unit: 'ms',
    times: flips,
    median: medianMs,
    p95: p95Ms,
  }));
}

interface OnsetFigures {
  readonly results: readonly { condition: string; onTime: number; distance: { median: number; p95: number } }[];
}

function onsets(): (Row | Lacking)[] {
  const what = 'cue onset against due instant';
  if (!HAS_DESKTOP) return [{ what, why: 'no Electron or no display here' }];
  if (process.env.PULSE_SERVER === undefined) return [{ what, why: 'no sound server that can be recorded from' }];
  const figures = outputOf<OnsetFigures>('cue-onset.ts', '--short');
  return figures.results.map(({ condition, onTime, distance }) => ({
    ...rowOf(`${what}, ${condition}`, 'ms', [distance.median]),
    times: onTime,
    p95: distance.p95,
  }));
}

/** A measurement that is a program of its own. @throws Error with its last words where it fails. */
function outputOf<Figures>(program: string, ...words: string[]): Figures {
  const ran = spawnSync(process.execPath, [join(import.meta.dirname, program), ...words], { encoding: 'utf8' });
  if (ran.status !== 0) throw new Error(`${program} failed: ${ran.stderr.trim().split('\n').at(-1)}`);
  return JSON.parse(ran.stdout) as Figures;
}
