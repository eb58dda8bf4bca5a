import { spawnSync } from 'node:child_process';
import { hash } from 'node:crypto';
import { readFileSync, rmSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { DatabaseSync } from 'node:sqlite';
import { Worker } from 'node:worker_threads';
import { wordsFor } from '../../core/ledger/words.ts';
import { DEFAULT_LIMITS, limitsSchema } from '../../core/settings/limits.ts';
import { verify } from '../../electron/auditing/reports.ts';
import { COUNT_AT_MOST } from '../../electron/station/finding/find.ts';
import { findPlan } from '../../electron/station/finding/find-query.ts';
import { finder } from '../../electron/station/finding/finder.ts';
import { indexFileOf } from '../../electron/station/finding/index-file.ts';
import { readLedgerFile } from '../../electron/station/read-file.ts';

// What finding costs in a generated ledger, beside the same queries in the sqlite3 shell and, for verifying, beside bare
// SHA-256 of the same bytes, all in the same run: first `npm run bundle` and tests/generated/main.ts, then
// `node_modules/.bin/node tests/bench/finding.mjs LEDGER [--keep-index] [--no-verify]`. Prints JSON; judges nothing.
const [named = '', ...flags] = process.argv.slice(2);
const file = resolve(named);
const index = indexFileOf(file);
const truths = readFileSync(`${file}.truth.jsonl`, 'utf8').trim().split('\n').map(JSON.parse);
const WORKER = new URL('../../dist/station/finding-worker.mjs', import.meta.url);
const TIMES = 25;
const PAGE = 50;

const timed = (work) => {
  const startedMs = performance.now();
  const result = work();
  return { ms: performance.now() - startedMs, result };
};
const share = (all, part) => [...all].sort((one, other) => one - other)[Math.floor((all.length - 1) * part)];
/** Elapsed times, and what of the processor each took: on a busy machine the second says more. */
const measuredOf = (work, times = TIMES) => {
  for (let count = 0; count < 3; count += 1) work();
  const before = process.cpuUsage();
  const all = Array.from({ length: times }, () => timed(work).ms);
  const { user, system } = process.cpuUsage(before);
  return { medianMs: share(all, 0.5), p95Ms: share(all, 0.95), cpuMs: (user + system) / 1000 / times };
};
/** One long piece of work. */
const worked = (work) => {
  const before = process.cpuUsage();
  const { ms } = timed(work);
  const { user, system } = process.cpuUsage(before);
  return { seconds: ms / 1000, cpuSeconds: (user + system) / 1e6 };
};
const beside = (ours, shell) => ({ ...ours, shell, ratioOfCpu: ours.cpuMs / shell.cpuMs });
const say = (words) => console.error(`${new Date().toISOString()} ${words}`);

/** Something that many sessions have, something that few have, something that one has. */
const middle = truths[Math.floor(truths.length / 2)];
const rare = truths.find(({ deviations }) => deviations.includes('in-use-exceeded')) ?? middle;
const FILTERS = {
  'the first page of all': {},
  'half a year': { fromWallMs: middle.openedWallMs, toWallMs: middle.openedWallMs + 182 * 86_400_000 },
  'one patient': { patientCode: middle.patientCode },
  'codes that begin with a letter': { patientCode: middle.patientCode.slice(0, 1) },
  lot: { lot: middle.lots[0] ?? 'none' },
  regimen: { regimenId: 'half-fluence' },
  eye: { eye: 'right' },
  person: { person: middle.people[0] },
  state: { state: 'discharged' },
  'rare state': { state: 'infusing' },
  deviation: { deviation: 'light-late' },
  'rare deviation': { deviation: rare.deviations[0] ?? 'zone-changed' },
  'any deviation': { deviation: 'any' },
  practice: { practice: 'practice' },
  'real ones': { practice: 'real' },
  'person, eye, deviation, half a year': {
    person: middle.people[0],
    eye: 'right',
    deviation: 'any',
    fromWallMs: middle.openedWallMs,
    toWallMs: middle.openedWallMs + 182 * 86_400_000,
  },
  'eye, real, discharged, person': { eye: 'right', practice: 'real', state: 'discharged', person: middle.people[0] },
  'what nothing answers to': { deviation: 'light-late', state: 'planning', eye: 'left' },
};

/**
 * Queries over and over in one shell, per round: elapsed, less what the shell needs to start, and what of the processor
 * the queries took by the shell's own timer, in which starting is not counted.
 */
function inShell(database, queries, times = TIMES) {
  const run = (words) =>
    timed(() => spawnSync('sqlite3', ['-readonly', database], { input: words, encoding: 'utf8', maxBuffer: 2 ** 31 }));
  const words = `${queries.map(literal).join('\n')}\n`.repeat(times);
  run(words);
  const startUpMs = share(
    Array.from({ length: 7 }, () => run('SELECT 1;').ms),
    0.5,
  );
  const elapsedMs =
    Math.max(
      0,
      share(
        Array.from({ length: 5 }, () => run(words).ms),
        0.5,
      ) - startUpMs,
    ) / times;
  const timer = run(`.timer on\n${words}`).result.stdout.matchAll(/^Run Time: real \S+ user (\S+) sys (\S+)/gm);
  const cpuMs = [...timer].reduce((sum, [, user, sys]) => sum + (Number(user) + Number(sys)) * 1000, 0) / times;
  return { startUpMs, elapsedMs, cpuMs };
}

const literal = ({ sql, bound }) => {
  const values = [...bound];
  return `${sql.replace(/\?/g, () => {
    const value = values.shift();
    return typeof value === 'string' ? `'${value}'` : String(value);
  })};`;
};

function building() {
  if (!flags.includes('--keep-index'))
    for (const end of ['', '-wal', '-shm']) rmSync(`${index}${end}`, { force: true });
  const finding = finder(file, DEFAULT_LIMITS);
  let batches = 0;
  const all = worked(() => {
    while (finding.step()) {
      batches += 1;
      if (batches % 500 === 0) say(`batch ${batches}`);
    }
  });
  finding.close();
  return { batches, ...all, cpuMsPerSession: (all.cpuSeconds * 1000) / truths.length };
}

function finding() {
  const ours = finder(file, DEFAULT_LIMITS);
  const db = new DatabaseSync(index, { readOnly: true });
  // Only what `findPlan` asks of a connection.
  const asked = {
    prepare: (sql) => ({ pluck: () => ({ get: (...bound) => Object.values(db.prepare(sql).get(...bound) ?? {})[0] }) }),
  };
  const rows = Object.entries(FILTERS).map(([name, filter]) => {
    const ask = () => ours.answer({ type: 'find', requestId: 'measured', filter, cursor: null, limit: PAGE });
    const { total } = ask();
    const plan = findPlan(asked, filter);
    const shell = inShell(index, [plan.page('shown', null, PAGE + 1), plan.count(COUNT_AT_MOST)]);
    say(name);
    return [name, { found: total.sessions, ...beside(measuredOf(ask), shell) }];
  });
  const deep = ours.answer({ type: 'find', requestId: 'measured', filter: {}, cursor: null, limit: PAGE });
  const cursor = { openedWallMs: truths[0].openedWallMs + 30 * 86_400_000, firstSeq: 1 };
  const page = measuredOf(() => ours.answer({ type: 'find', requestId: 'measured', filter: {}, cursor, limit: PAGE }));
  db.close();
  ours.close();
  return { indexed: deep.indexed, ...Object.fromEntries(rows), 'a page near the end': page };
}

function opening() {
  const ours = finder(file, DEFAULT_LIMITS);
  const ledger = readLedgerFile(file);
  const some = truths
    .filter((_, place) => place % Math.ceil(truths.length / 60) === 0)
    .map(({ sessionId }) => sessionId);
  const next = (
    (place) => () =>
      some[place++ % some.length]
  )(0);
  const shown = (entry) => ({ ...entry, words: wordsFor(entry) });
  const entries = measuredOf(() => ledger.entriesOf(next()).map(shown), some.length);
  const reading = measuredOf(
    () => ours.answer({ type: 'reading', requestId: 'measured', sessionId: next() }),
    some.length,
  );
  ledger.close();
  ours.close();
  const bound = [some[0]];
  const sql = 'SELECT measures FROM sessions JOIN measures USING (first_seq) WHERE session_id = ?';
  const entriesSql = 'SELECT * FROM entries WHERE session = ? ORDER BY seq';
  return {
    entries: beside(entries, inShell(file, [{ sql: entriesSql, bound }])),
    reading: beside(reading, inShell(index, [{ sql, bound }])),
  };
}

function clinic() {
  const ours = finder(file, DEFAULT_LIMITS);
  const year = { fromWallMs: middle.openedWallMs, toWallMs: middle.openedWallMs + 365 * 86_400_000 };
  const rows = Object.entries({ all: {}, 'one year': year, 'one regimen': { regimenId: 'half-fluence' } }).map(
    ([name, filter]) => {
      const all = measuredOf(() => ours.answer({ type: 'clinic', requestId: 'measured', filter }), 7);
      return [name, beside(all, inShell(index, [{ sql: clinicSql(filter), bound: [] }], 3))];
    },
  );
  ours.close();
  return Object.fromEntries(rows);
}

/** As somebody would ask in the shell for what the figures need. */
function clinicSql({ fromWallMs = 0, toWallMs = 9e15, regimenId }) {
  const range = `opened_wall_ms >= ${fromWallMs} AND opened_wall_ms < ${toWallMs}`;
  return regimenId === undefined
    ? `SELECT clinic FROM sessions WHERE ${range}`
    : `SELECT clinic FROM marks JOIN sessions USING (first_seq) WHERE kind = 'regimen' AND value = '${regimenId}'`;
}

/** Every session's deviations by other limits, and back. */
function limitsChanged() {
  const by = (limits) => {
    const ours = finder(file, limits);
    const all = worked(() => {
      while (ours.step());
    });
    ours.close();
    return all;
  };
  return { changed: by(limitsSchema.parse({ lightStartWithinS: 10 })), back: by(DEFAULT_LIMITS) };
}

function verifying() {
  let report;
  const whole = worked(() => {
    report = verify(file, null);
  });
  say('verified');
  const bare = bareHashes();
  const { sound, entries } = report;
  return { sound, entries, ...whole, bareSha256: bare, ratioOfCpu: whole.cpuSeconds / bare.cpuSeconds };
}

/** The very texts that the chain hashes, hashed and nothing else; putting them together is not counted. */
function bareHashes() {
  const db = new DatabaseSync(file, { readOnly: true });
  let bytes = 0;
  let [seconds, cpuSeconds] = [0, 0];
  let texts = [];
  const hashAll = () => {
    const batch = worked(() => {
      for (const text of texts) hash('sha256', text, 'hex');
    });
    [seconds, cpuSeconds, texts] = [seconds + batch.seconds, cpuSeconds + batch.cpuSeconds, []];
  };
  const word = (text) => (text === null ? 'null' : `"${text}"`);
  for (const row of db.prepare('SELECT * FROM entries ORDER BY seq').iterate()) {
    const text =
      `dimroom ledger entry 1\n{"author":{"initials":"${row.author}","role":"${row.role}"},"boot":"${row.boot}",` +
      `"commandId":${word(row.command_id)},"continuousMs":${row.continuous_ms},"kind":"${row.kind}",` +
      `"offsetMin":${row.offset_min},"payload":${row.payload},"prevHash":"${row.prev_hash}","seq":${row.seq},` +
      `"sessionId":${word(row.session)},"wallMs":${row.wall_ms}}`;
    if (row.seq % 1000 === 1 && hash('sha256', text, 'hex') !== row.hash)
      throw new Error(`entry ${row.seq}: other bytes`);
    bytes += Buffer.byteLength(text);
    texts.push(text);
    if (texts.length === 5000) hashAll();
  }
  hashAll();
  db.close();
  return { bytes, seconds, cpuSeconds };
}

/** As the station asks: in a thread, parsed both ways. And what the asking thread feels of an index being built. */
async function throughThread() {
  const delayed = async (work) => {
    const delay = monitorEventLoopDelay({ resolution: 5 });
    delay.enable();
    await work();
    delay.disable();
    return { p50Ms: delay.percentile(50) / 1e6, p99Ms: delay.percentile(99) / 1e6 };
  };
  const pause = (ms) => new Promise((resume) => setTimeout(resume, ms));
  const idle = await delayed(() => pause(4000));
  const worker = new Worker(WORKER, { workerData: { ledgerFile: file, limits: DEFAULT_LIMITS } });
  const ask = (request, token) =>
    new Promise((resume) => {
      worker.once('message', resume);
      worker.postMessage({ token, request });
    });
  const request = { type: 'find', requestId: 'measured', filter: {}, cursor: null, limit: PAGE };
  const all = [];
  for (let token = 0; token < TIMES + 3; token += 1) {
    const startedMs = performance.now();
    await ask(request, token);
    all.push(performance.now() - startedMs);
  }
  await worker.terminate();
  const copy = `${file}.building`;
  spawnSync('cp', [file, copy]);
  const builder = new Worker(WORKER, { workerData: { ledgerFile: copy, limits: DEFAULT_LIMITS } });
  const whileBuilding = await delayed(() => pause(8000));
  await builder.terminate();
  for (const name of [copy, `${copy}-wal`, `${copy}-shm`]) rmSync(name, { force: true });
  for (const end of ['', '-wal', '-shm']) rmSync(`${indexFileOf(copy)}${end}`, { force: true });
  const later = all.slice(3);
  return {
    firstPage: { firstMs: all[0], medianMs: share(later, 0.5), p95Ms: share(later, 0.95) },
    askingThreadIdle: idle,
    askingThreadWhileBuilding: whileBuilding,
  };
}

const measured = {
  sessions: truths.length,
  ledgerMegabytes: statSync(file).size / 1e6,
  building: building(),
  indexMegabytes: statSync(index).size / 1e6,
  finding: finding(),
  opening: opening(),
  clinic: clinic(),
  limitsChanged: limitsChanged(),
  throughThread: await throughThread(),
  verifying: flags.includes('--no-verify') ? null : verifying(),
};
console.log(
  JSON.stringify(measured, (_, value) => (typeof value === 'number' ? Number(value.toPrecision(4)) : value), 2),
);
