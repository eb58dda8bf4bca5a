import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command } from '../../../core/procedure/commands.ts';
import { instantsFrom, openOccurrences } from '../../../core/procedure/cue-occurrences.ts';
import { type SteppedClock, steppedClock } from '../../../electron/station/clock.ts';
import { Desk } from '../../../electron/station/desk.ts';
import { emergencyFile } from '../../../electron/station/emergency-file.ts';
import { readHouse } from '../../../electron/station/house.ts';
import { ledgerStore } from '../../../electron/station/ledger.ts';
import { openDatabase } from '../../../electron/station/open-database.ts';
import { steadfastLedger } from '../../../electron/station/steadfast-ledger.ts';
import { type Given, NURSE, TREATMENT } from '../../station/treatment.ts';

/** One session of an audited ledger, and how it went. */
interface Past {
  readonly patientCode: string;
  /** Months before this one, and the day of that month. */
  readonly month: number;
  readonly day: number;
  /** How much later than its window the light was begun. */
  readonly lateS: number;
  /** What the operator told of it. */
  readonly told?: string;
}

export const LATE = { patientCode: 'K-3110', month: 1, day: 19, lateS: 62 } as const;

/** Last month had two late starts of light; the months around it, one each. In the order of days. */
export const PAST: readonly Past[] = [
  { patientCode: 'K-2041', month: 2, day: 7, lateS: 95 },
  { patientCode: 'K-2077', month: 1, day: 4, lateS: 0 },
  { patientCode: 'K-2093', month: 1, day: 12, lateS: 240, told: 'the laser was not ready in time' },
  LATE,
  { patientCode: 'K-2041', month: 1, day: 26, lateS: 4 },
  { patientCode: 'K-3152', month: 0, day: 1, lateS: 0 },
];

/** A folder with a ledger of practice: sessions of three months, each as the desk ruled on it, with every cue sounded. */
export const auditedLedger = (): string => ledgerOf({ practice: true });

/** The same, of a clinic that treats in earnest. Nobody is on its roster yet. */
export const clinicLedger = (): string => ledgerOf({ practice: false });

function ledgerOf({ practice }: { practice: boolean }): string {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-audited-'));
  const store = ledgerStore(openDatabase(join(folder, practice ? 'practice.sqlite3' : 'ledger.sqlite3')));
  const firstWallMs = wallOf({ month: 2, day: 1 }) - 3_600_000;
  const clock = steppedClock(0, firstWallMs);
  const ledger = steadfastLedger(store, emergencyFile(join(folder, 'waiting.jsonl')));
  const desk = new Desk(ledger, clock, practice, readHouse(folder));
  desk.note('station-started', { first: true, file: crypto.randomUUID() });
  for (const past of PAST) {
    clock.moveTo(wallOf(past) - firstWallMs);
    treat(desk, clock, past);
  }
  store.close();
  return folder;
}

/** Eight in the morning of a day, in the zone that this machine has then. */
function wallOf({ month, day }: Pick<Past, 'month' | 'day'>): number {
  const now = new Date();
  return new Date(now.getFullYear(), now.getMonth() - month, day, 8).getTime();
}

function treat(desk: Desk, clock: SteppedClock, past: Past): void {
  const openedAtMs = clock.now().continuousMs;
  const opened = desk.open(crypto.randomUUID(), NURSE);
  if (opened.type !== 'entered') throw new Error('no session was opened');
  for (const { atS, by, command } of stepsOf(past)) {
    soundUntil(desk, clock, opened.sessionId, openedAtMs + atS * 1000);
    const answer = desk.command(crypto.randomUUID(), opened.sessionId, Number.MAX_SAFE_INTEGER, by, command);
    if (answer.type !== 'entered') throw new Error(`${command.kind}: ${JSON.stringify(answer)}`);
  }
}

/** A whole treatment, with everything from the light on so much later. */
function stepsOf({ patientCode, lateS, told }: Past): Given[] {
  const lightAt = TREATMENT.findIndex(({ command }) => command.kind === 'beam-on');
  const steps = TREATMENT.map((step, index): Given => {
    const command: Command = step.command.kind === 'identify' ? { ...step.command, patientCode } : step.command;
    return { ...step, command, atS: step.atS + (index < lightAt ? 0 : lateS) };
  });
  const beamOn = steps[lightAt];
  if (told === undefined || beamOn === undefined) return steps;
  const { atS, by } = beamOn;
  return steps.toSpliced(lightAt, 0, { atS, by, command: { kind: 'note', words: told } });
}

/** Every cue on the way sounds at its instant. */
function soundUntil(desk: Desk, clock: SteppedClock, sessionId: string, untilMs: number): void {
  for (let next = nextCue(desk, sessionId); next !== null && next.dueAtMs <= untilMs; next = nextCue(desk, sessionId)) {
    clock.moveTo(Math.max(clock.now().continuousMs, next.dueAtMs));
    desk.ringBefore(clock.now());
    desk.cueSounded(crypto.randomUUID(), sessionId, { ...next, outcome: 'sounded', lateMs: 0 });
  }
  clock.moveTo(untilMs);
}

function nextCue(desk: Desk, sessionId: string) {
  const record = desk.holding(sessionId)?.session.context;
  if (record === undefined) return null;
  const waiting = openOccurrences(record)
    .flatMap((one) => instantsFrom(one).map((dueAtMs) => ({ cue: one.cue, dueAtMs })))
    .filter((one) => !record.cuesSounded.some((told) => told.cue === one.cue && told.dueAtMs === one.dueAtMs));
  return waiting.sort((one, other) => one.dueAtMs - other.dueAtMs)[0] ?? null;
}
