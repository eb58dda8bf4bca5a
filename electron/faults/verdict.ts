import { canonicalJson, type Entry } from '../../core/ledger/entry.ts';
import { replay } from '../../core/ledger/replay.ts';
import type { SessionRecord } from '../../core/procedure/record.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { verify } from '../auditing/reports.ts';
import { readEntries } from '../station/read-file.ts';
import type { Bench } from './bench.ts';
import { must } from './loss.ts';

/** How far a due instant may be from the truth. */
const NEAR_MS = 50;

/** What a run that has lost nothing came to. */
export interface Verdict {
  readonly entries: number;
  /** Furthest that a due instant was from the truth. */
  readonly dueOffMs: number;
  /** From each due instant to its entry: under a fault it may have come while no station ran. */
  readonly rungLateMs: readonly number[];
}

/** Reads the file when all is over and holds it against everything the station ever promised. @throws Loss */
export function judge(bench: Bench, sessionId: string): Verdict {
  const entries = readEntries(bench.database);
  const report = verify(bench.database, null);
  must(report.sound, () => `the ledger is not sound: ${JSON.stringify(report.problems)}`);
  must(bench.waiting().length === 0, () => `${bench.waiting().length} entries never landed`);
  keptAll(bench, entries);
  const own = entries.filter((entry) => entry.sessionId === sessionId);
  const record = replay(own).context;
  must(stateOf(record) === 'discharged', () => `the session ended as ${stateOf(record)}`);
  return { entries: entries.length, ...dues(bench, own, record) };
}

/** Every command that was acknowledged is there, as it was given, once; and nothing that nobody gave. */
function keptAll(bench: Bench, entries: readonly Entry[]): void {
  const byPerson = entries.filter((entry) => entry.author.role !== 'station');
  for (const { request, seq } of bench.acknowledged) {
    const own = byPerson.filter((entry) => entry.commandId === request.requestId);
    const { kind, ...fields } = request.command;
    must(own.length === 1, () => `${kind}, acknowledged as entry ${seq}, is there ${own.length} times`);
    const [entry] = own;
    must(entry?.seq === seq && entry.kind === kind, () => `${kind}, acknowledged as entry ${seq}, is ${entry?.seq}`);
    const said = kind === 'open-session' ? {} : fields;
    const { found: _found, practice: _practice, settings: _settings, ...kept } = entry?.payload ?? {};
    must(canonicalJson(kept) === canonicalJson(said), () => `entry ${seq} does not say what was given: ${kind}`);
  }
  const given = bench.acknowledged.length;
  must(byPerson.length === given, () => `${byPerson.length} entries by people, ${given} commands acknowledged`);
}

/** Both timers against the truth: what went by since the pump was started, whatever the machine's clocks did. */
function dues(bench: Bench, own: readonly Entry[], record: SessionRecord): Pick<Verdict, 'dueOffMs' | 'rungLateMs'> {
  const start = own.find((entry) => entry.kind === 'start-pump');
  const press = bench.acknowledged.find(({ request }) => request.requestId === start?.commandId);
  must(start !== undefined && press !== undefined && record.course !== null, () => 'the pump was never started');
  if (start === undefined || press === undefined || record.course === null) throw new Error('the pump was not started');
  const t0Ms = bench.trueMs(start.continuousMs, start.boot);
  const within = t0Ms >= press.sentMs - NEAR_MS && t0Ms <= press.heardMs + NEAR_MS;
  must(within, () => `T0 is at ${t0Ms}, the press was from ${press.sentMs} to ${press.heardMs}`);

  const { plannedMs } = record.course.infusion;
  const lightMs = (record.order?.regimen.lightStartMin ?? Number.NaN) * 60_000;
  const stoodMs = record.sleeps
    .filter(({ counted, looked }) => counted && looked?.pump === 'stood still')
    .reduce((sum, { sleptMs }) => sum + sleptMs, 0);
  const truths = { 'infusion-due': t0Ms + plannedMs, 'light-due': t0Ms + lightMs };
  const rungLateMs: number[] = [];
  let dueOffMs = 0;
  for (const [kind, truthMs] of Object.entries(truths)) {
    const rung = own.filter((entry) => entry.kind === kind);
    const again = kind === 'infusion-due' && stoodMs > 0;
    must(rung.length === 1 || (again && rung.length >= 1), () => `${kind} is there ${rung.length} times`);
    for (const entry of rung) {
      const dueMs = bench.trueMs(Number(entry.payload.dueAtMs), entry.boot);
      const offMs = Math.min(Math.abs(dueMs - truthMs), again ? Math.abs(dueMs - truthMs - stoodMs) : Infinity);
      must(offMs <= NEAR_MS, () => `${kind} was due ${Math.round(dueMs - truthMs)} ms from the truth`);
      dueOffMs = Math.max(dueOffMs, offMs);
      rungLateMs.push(entry.continuousMs - Number(entry.payload.dueAtMs));
    }
  }
  return { dueOffMs, rungLateMs };
}
