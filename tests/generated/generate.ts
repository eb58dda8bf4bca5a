import { canonicalJson } from '../../core/ledger/entry.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { type Chance, chanceOf } from '../../electron/faults/chance.ts';
import { openDatabase } from '../../electron/station/open-database.ts';
import { ChainWriter, type Placed } from './chain-writer.ts';
import { type Day, type PlannedSession, type Truth, timesOfDay, writeDay } from './day.ts';
import { Shapes } from './shapes.ts';
import type { Stamp } from './stamping.ts';

export interface Generated {
  readonly sessions: number;
  readonly entries: number;
  readonly hashedBytes: number;
  /** Sessions that were played through the machine; every other is one of them in other seconds and names. */
  readonly played: number;
}

interface Wanted {
  readonly file: string;
  readonly sessions: number;
  readonly seed: number;
  /** Of each session, in the order of days. */
  readonly onTruth: (truth: Truth) => void;
}

const SESSIONS_A_DAY = 20;
/** The last sessions are left in the midst, each at another step. */
const LEFT_AFTER = ['measure', 'second-check', 'prepare', 'patency', 'start-pump', 'end-flush', 'beam-on'];
/** Days in one transaction. */
const BATCH_DAYS = 25;
/** The first day of the invented years. */
const FIRST_DAY_MS = Date.UTC(2014, 0, 6);
const DAY_MS = 86_400_000;

/**
 * Makes a ledger of invented sessions: a real file of the present schema with its triggers in place throughout, every
 * entry chained, every session as the machine ruled on it. The same seed makes the same ledger.
 */
export function generate({ file, sessions, seed, onTruth }: Wanted): Generated {
  const db = openDatabase(file);
  // Nobody's ledger: it may be lost while it is made. What is set here ends with this connection.
  for (const setting of ['synchronous = OFF', 'cache_size = -1000000', 'wal_autocheckpoint = 20000'])
    db.pragma(setting);
  const chance = chanceOf(seed);
  const shapes = new Shapes(chance);
  const writer = new ChainWriter(db);
  let made = 0;
  for (let day = 0; made < sessions; ) {
    db.transaction(() => {
      for (let count = 0; count < BATCH_DAYS && made < sessions; count += 1, day += 1) {
        const planned = plannedDay(day, Math.min(SESSIONS_A_DAY, sessions - made), sessions - made, chance, shapes);
        writeStart(planned, day === 0, writer, chance);
        for (const truth of writeDay(planned, writer)) onTruth(truth);
        made += planned.sessions.length;
      }
    })();
  }
  db.pragma('wal_checkpoint(TRUNCATE)');
  db.close();
  return { sessions: made, entries: writer.seq, hashedBytes: writer.hashedBytes, played: shapes.played };
}

function plannedDay(day: number, count: number, left: number, chance: Chance, shapes: Shapes): Day {
  const dayMs = FIRST_DAY_MS + Math.floor(day / 5) * 7 * DAY_MS + (day % 5) * DAY_MS;
  const month = new Date(dayMs).getUTCMonth();
  const sessions = timesOfDay(count, chance).map((openedAtMs, index): PlannedSession => {
    const leftAfter = LEFT_AFTER[LEFT_AFTER.length - (left - index)];
    return {
      openedAtMs,
      shape: leftAfter === undefined ? shapes.next(index === count - 1) : shapes.leftAfter(leftAfter),
      stamp: stampBy(chance, dayMs),
    };
  });
  // Local time is an hour ahead of UTC, and two in summer; exact days of change do not matter here.
  return {
    boot: `boot-${day}`,
    zeroWallMs: dayMs + 4 * 3_600_000,
    offsetMin: month > 2 && month < 9 ? 120 : 60,
    sessions,
  };
}

const LETTERS = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
const NURSES = ['AM', 'BK', 'CL', 'DR', 'EW', 'FN', 'GT', 'HS'];
const OPERATORS = ['PV', 'QB', 'RX', 'SD'];

function stampBy(chance: Chance, dayMs: number): Omit<Stamp, 'laterMs' | 'boot'> {
  const first = chance.below(NURSES.length);
  const second = (first + 1 + chance.below(NURSES.length - 1)) % NURSES.length;
  const born = new Date(Date.UTC(1930 + chance.below(45), chance.below(12), 1 + chance.below(28)));
  const lotMonth = Math.floor(dayMs / (45 * DAY_MS));
  return {
    sessionId: uuidBy(chance),
    patientCode: `${LETTERS[chance.below(24)]}-${String(chance.below(40_000)).padStart(5, '0')}`,
    birthDate: born.toISOString().slice(0, 10),
    lot: `${LETTERS[lotMonth % 24]}${1000 + lotMonth}${chance.below(3)}`,
    initials: { MO: NURSES[first] ?? 'AM', TK: NURSES[second] ?? 'BK', RV: chance.among(OPERATORS) },
  };
}

function uuidBy(chance: Chance): string {
  const hex = Array.from({ length: 4 }, () =>
    Math.floor(chance.share() * 2 ** 32)
      .toString(16)
      .padStart(8, '0'),
  ).join('');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-4${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20)}`;
}

/** The station is started each morning; a new ledger says what file it is and by which settings it begins. */
function writeStart(day: Day, first: boolean, writer: ChainWriter, chance: Chance): void {
  const file = first ? { file: uuidBy(chance) } : {};
  writer.write(stationEntry(day, 'station-started', { first, ...file, asleepMs: 0 }));
  if (first) writer.write(stationEntry(day, 'settings', { settings: DEFAULT_SETTINGS, from: 'the start' }));
}

const stationEntry = (day: Day, kind: string, payload: object): Placed => ({
  sessionId: null,
  kind,
  payload: canonicalJson(payload),
  orderMs: STARTED_AT_MS,
  continuousMs: STARTED_AT_MS,
  boot: day.boot,
  author: 'station',
  role: 'station',
  commandId: null,
  wallMs: day.zeroWallMs + STARTED_AT_MS,
  offsetMin: day.offsetMin,
});

const STARTED_AT_MS = 2 * 3_600_000;
