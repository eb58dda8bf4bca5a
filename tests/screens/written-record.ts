import { expect } from 'vitest';
import { brokenAt, entriesIn, type FoundEntry } from '../station/independent-reading.ts';
import { ENTERED_BY_PEOPLE } from './whole-session.ts';

const MINUTE_MS = 60_000;

/** The file holds a whole session as it was walked: every change in order, by whom, and the clock's own instants. */
export function expectWholeRecord(file: string): void {
  expectDues(expectInOrder(file));
}

/** Every change of the session in order, and by whom, in an unbroken chain. Returns its entries. */
export function expectInOrder(file: string): readonly FoundEntry[] {
  const entries = entriesIn(file);
  const session = entries.filter(({ sessionId }) => sessionId !== null);
  const people = session.filter(({ author }) => author.role !== 'station');
  expect(people.map((entry) => [nameOf(entry), entry.author.initials])).toEqual(ENTERED_BY_PEOPLE);
  expect(brokenAt(entries)).toEqual([]);
  expect(new Set(session.map(({ sessionId }) => sessionId)).size).toBe(1);
  return session;
}

/** A hold moves the end of the infusion, and not the light window: both count from one T0. */
function expectDues(session: readonly FoundEntry[]): void {
  const at = (kind: string): number => only(session, kind).continuousMs;
  const due = (kind: string): unknown => only(session, kind).payload.dueAtMs;
  const t0AtMs = at('start-pump');
  expect(due('light-due')).toBeCloseTo(t0AtMs + 15 * MINUTE_MS, 0);
  expect(due('infusion-due')).toBeCloseTo(t0AtMs + 10 * MINUTE_MS + at('resume') - at('hold'), 0);
  expect(due('flush-due')).toBeCloseTo(at('begin-flush') + MINUTE_MS, 0);
  expect(due('exposure-due')).toBeCloseTo(at('beam-on') + 83_000, 0);
  const station = session.filter(({ author }) => author.role === 'station');
  const [told, dues] = [true, false].map((cue) => station.filter(({ kind }) => (kind === 'cue-sounded') === cue));
  expect(dues?.map(({ kind }) => kind).sort()).toEqual(['exposure-due', 'flush-due', 'infusion-due', 'light-due']);
  // Where this machine has sound, the window that sounds the cues says what became of each, once.
  const instants = told?.map(({ payload }) => `${payload.cue} ${payload.dueAtMs}`) ?? [];
  expect(new Set(instants).size).toBe(instants.length);
}

function only(entries: readonly FoundEntry[], kind: string): FoundEntry {
  const found = entries.filter((entry) => entry.kind === kind);
  const [first] = found;
  if (first === undefined || found.length > 1) throw new Error(`${found.length} entries "${kind}" instead of one`);
  return first;
}

const nameOf = ({ kind, payload }: FoundEntry): string => (kind === 'check' ? String(payload.item) : kind);
