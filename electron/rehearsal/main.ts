import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import type { Entry } from '../../core/ledger/entry.ts';
import { replay } from '../../core/ledger/replay.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { timerReport } from '../../core/procedure/timer-report.ts';
import { readEntries } from '../station/read-file.ts';
import { pacing, type Refusal, rehearse, stepping } from './rehearse.ts';
import { BadScenario, readScenario } from './scenario.ts';
import { startStation } from './station-pipe.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const USAGE = 'npm run --silent rehearse -- [--scenario FILE] [--speed N] [--data DIR]';

const EXIT = { ran: 0, refused: 1, bad: 2 } as const;

interface Options {
  readonly scenario: string;
  readonly speed: number | null;
  /** Null for a folder of its own, made once the scenario is known to be good. */
  readonly data: string | null;
}

try {
  const code = await run(readOptions());
  process.exitCode = code;
} catch (error) {
  const says = error instanceof Error ? error.message : String(error);
  print({ error: says });
  console.error(`rehearse: ${says}`);
  process.exitCode = error instanceof BadScenario ? EXIT.bad : EXIT.refused;
}

async function run({ scenario, speed, data }: Options): Promise<number> {
  const steps = readScenario(scenario);
  const entry = join(ROOT, 'dist/station/main.mjs');
  const folder = data ?? mkdtempSync(join(tmpdir(), 'dimroom-rehearsal-'));
  const station = await startStation(process.execPath, entry, ['--data', folder, '--practice', '--stepped']);
  const { sessionIds, refused } = await rehearse(
    steps,
    station,
    speed === null ? stepping(station) : pacing(station, speed),
  );
  await station.stop();
  print(report(station.database, sessionIds, refused));
  if (refused !== null)
    console.error(`rehearse: command ${refused.command} was refused: ${refused.missing.join('; ')}`);
  return refused === null ? EXIT.ran : EXIT.refused;
}

/** Read back from the file after the station has ended: what is printed is what was stored. */
function report(database: string, sessionIds: readonly string[], refused: Refusal | null): object {
  const entries = readEntries(database);
  const sessions = sessionIds.map((sessionId) => sessionReport(sessionId, entries));
  const first = sessions[0] ?? { sessionId: null, finalState: null, timers: [] };
  return {
    ...first,
    database,
    ...(refused === null ? {} : { refused }),
    ...(sessions.length > 1 ? { sessions } : {}),
    entries,
  };
}

function sessionReport(sessionId: string, entries: readonly Entry[]) {
  const record = replay(entries.filter((entry) => entry.sessionId === sessionId)).context;
  return { finalState: stateOf(record), sessionId, timers: timerReport(record) };
}

function print(value: object): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}

function readOptions(): Options {
  let values: { scenario?: string; speed?: string; data?: string };
  try {
    const options = { scenario: { type: 'string' }, speed: { type: 'string' }, data: { type: 'string' } } as const;
    values = parseArgs({ options }).values;
  } catch (error) {
    throw new BadScenario(`${error instanceof Error ? error.message : String(error)}. Use: ${USAGE}`);
  }
  const speed = values.speed === undefined ? null : Number(values.speed);
  if (speed !== null && !(speed >= 0.1 && speed <= 1000)) {
    throw new BadScenario(`--speed is how many times faster than real time, from 0.1 to 1000, not "${values.speed}"`);
  }
  return {
    scenario: resolve(values.scenario ?? join(ROOT, 'tests/scenarios/full-session.json')),
    speed,
    data: values.data === undefined ? null : resolve(values.data),
  };
}
