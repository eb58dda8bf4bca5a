import type { DeviationId } from '../../core/ledger/deviations.ts';
import type { Chance } from '../../electron/faults/chance.ts';
import { OPENED_AT_MS } from '../session-steps.ts';
import type { ChainWriter, Placed } from './chain-writer.ts';
import type { Shape } from './shapes.ts';
import { type Stamp, type Stamped, stamped } from './stamping.ts';

/** What is known of a made-up session beside its ledger: the truth that a reading is held against. */
export interface Truth {
  readonly sessionId: string;
  readonly firstSeq: number;
  readonly lastSeq: number;
  readonly entries: number;
  readonly openedWallMs: number;
  readonly offsetMin: number;
  readonly patientCode: string | null;
  /** Null, and no eyes, while what is ordered is withheld from whoever computes second. */
  readonly regimenId: string | null;
  readonly eyes: readonly string[];
  readonly lots: readonly string[];
  /** Initials, each once. */
  readonly people: readonly string[];
  readonly state: string;
  readonly practice: boolean;
  readonly deviations: readonly DeviationId[];
}

export interface PlannedSession {
  readonly shape: Shape;
  readonly stamp: Omit<Stamp, 'laterMs' | 'boot'>;
  /** When it is opened, on the day's clock. */
  readonly openedAtMs: number;
}

export interface Day {
  readonly boot: string;
  /** Wall time at which the day's clock stands at zero. */
  readonly zeroWallMs: number;
  readonly offsetMin: number;
  readonly sessions: readonly PlannedSession[];
}

interface Told {
  readonly firstSeq: number;
  lastSeq: number;
  entries: number;
  readonly openedWallMs: number;
  readonly offsetMin: number;
  readonly people: Set<string>;
}

/** Station entries that are read as deviations of every session they fall into. */
const STATION_DEVIATIONS: Readonly<Record<string, DeviationId>> = {
  'clock-stepped': 'clock-stepped',
  'zone-changed': 'zone-changed',
};

/** Writes a day's sessions, interleaved as they happened. Returns what is true of each. */
export function writeDay(day: Day, writer: ChainWriter): Truth[] {
  const entries = day.sessions
    .flatMap(({ shape, stamp, openedAtMs }) =>
      stamped(shape.template, { ...stamp, boot: day.boot, laterMs: openedAtMs - OPENED_AT_MS }),
    )
    .sort((one, other) => one.orderMs - other.orderMs);
  const told = new Map<string, Told>();
  const events: { readonly seq: number; readonly id: DeviationId }[] = [];
  let { zeroWallMs, offsetMin } = day;
  for (const entry of entries) {
    if (entry.kind === 'clock-stepped') zeroWallMs += Number(JSON.parse(entry.payload).byMs);
    if (entry.kind === 'zone-changed') offsetMin += Number(JSON.parse(entry.payload).toMin);
    const placed = { ...inZone(entry, offsetMin), wallMs: zeroWallMs + entry.orderMs, offsetMin };
    const seq = writer.write(placed);
    tell(told, placed, seq);
    const id = STATION_DEVIATIONS[entry.kind];
    if (id !== undefined) events.push({ seq, id });
  }
  return day.sessions.map((session) => truthOf(session, told.get(session.stamp.sessionId), events));
}

/** In a template a zone changes from 0; here from what the day had. */
function inZone(entry: Stamped, offsetMin: number): Stamped {
  if (entry.kind !== 'zone-changed') return entry;
  const byMin = Number(JSON.parse(entry.payload).toMin);
  return { ...entry, payload: `{"fromMin":${offsetMin - byMin},"toMin":${offsetMin}}` };
}

function tell(told: Map<string, Told>, { sessionId, author, role, wallMs, offsetMin }: Placed, seq: number): void {
  if (sessionId === null) return;
  const one = told.get(sessionId) ?? {
    firstSeq: seq,
    lastSeq: seq,
    entries: 0,
    openedWallMs: wallMs,
    offsetMin,
    people: new Set<string>(),
  };
  one.lastSeq = seq;
  one.entries += 1;
  if (role !== 'station') one.people.add(author);
  told.set(sessionId, one);
}

function truthOf(
  { shape, stamp }: PlannedSession,
  told: Told | undefined,
  events: readonly { readonly seq: number; readonly id: DeviationId }[],
): Truth {
  if (told === undefined) throw new Error(`${stamp.sessionId} was not written`);
  const { plan, template } = shape;
  const { context } = template.session;
  const state = context.reached.at(-1)?.state ?? '';
  const order = state === 'planning' && context.secondCheck === null ? null : context.order;
  const met = events.filter(({ seq }) => seq > told.firstSeq && seq < told.lastSeq).map(({ id }) => id);
  const { people, ...rest } = told;
  return {
    sessionId: stamp.sessionId,
    ...rest,
    patientCode: context.patient === null ? null : stamp.patientCode,
    regimenId: order?.regimenId ?? null,
    eyes: order?.lesions.map(({ eye }) => eye) ?? [],
    lots: context.drug === null ? [] : [stamp.lot],
    people: [...people],
    state,
    practice: plan.practice,
    deviations: [...new Set([...template.finds, ...met])],
  };
}

/** A day's times: sessions follow each other so closely that two are under way at once, but for the last. */
export function timesOfDay(sessions: number, chance: Chance): number[] {
  const times: number[] = [];
  let atMs = 3 * 3_600_000;
  for (let count = 0; count < sessions; count += 1) {
    times.push(atMs);
    atMs += (count === sessions - 2 ? ALONE_AFTER_MS : APART_MS) + chance.below(120) * 1000;
  }
  return times;
}

const APART_MS = 20 * 60_000;
/** Longer than any made-up session takes. */
const ALONE_AFTER_MS = 45 * 60_000;
