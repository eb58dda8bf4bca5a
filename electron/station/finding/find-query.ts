import type { FindCursor, FindFilter } from '../../../core/ledger/find-filter.ts';
import { type Mark, marksAsked } from './facets.ts';
import type { IndexFile } from './index-file.ts';

/** A query and what is bound to it, in order. */
export interface Query {
  readonly sql: string;
  readonly bound: readonly (string | number)[];
}

/** How a filter is answered: by which of the things asked for the list is walked; the others are looked up. */
export interface FindPlan {
  page(what: string, cursor: FindCursor | null, limit: number): Query;
  /** Of every session that answers to it, in no order. */
  all(what: string): Query;
  count(atMost: number): Query;
}

/** Above this many, one thing asked for is as good to walk by as another. */
const COUNT_TO_CHOOSE = 4000;

/**
 * Plans a query. The list is walked by the rarest thing that is asked for, so the plan is chosen here by counting, and
 * held to by `CROSS JOIN` and `INDEXED BY`: SQLite then has nothing left to guess.
 */
export function findPlan(db: IndexFile, filter: FindFilter): FindPlan {
  const range = rangeOf(filter);
  const patient = patientRange(filter);
  const marks = marksAsked(filter)
    .map((mark) => ({ mark, sessions: countOf(db, markWalk(mark), range) }))
    .sort((one, other) => one.sessions - other.sessions);
  const byRarity = marks.map(({ mark }) => mark);
  const fewest = marks[0]?.sessions ?? COUNT_TO_CHOOSE;
  if (patient !== null && countOf(db, patientWalk(patient), range) < Math.min(fewest + 1, COUNT_TO_CHOOSE)) {
    return planOf(patientWalk(patient), range, byRarity, null);
  }
  const [rarest, ...others] = byRarity;
  if (rarest !== undefined) return planOf(markWalk(rarest), range, others, patient);
  return planOf(TIME_WALK, range, [], patient);
}

/** What a list is walked by: where `place` stands for the table that has each session's place in it. */
interface Walk {
  readonly from: string;
  readonly where: string;
  readonly bound: readonly string[];
  /** Whether `place` is the sessions themselves. */
  readonly sessions: boolean;
}

const TIME_WALK: Walk = { from: 'sessions AS place INDEXED BY sessions_by_time', where: '', bound: [], sessions: true };

const markWalk = ({ kind, value }: Mark): Walk => ({
  from: 'marks AS place',
  where: 'place.kind = ? AND place.value = ? AND ',
  bound: [kind, value],
  sessions: false,
});

const patientWalk = ({ from, to }: PatientRange): Walk => ({
  from: 'sessions AS place INDEXED BY sessions_by_patient',
  where: 'place.patient_code >= ? AND place.patient_code < ? AND ',
  bound: [from, to],
  sessions: true,
});

interface PlaceRange {
  readonly fromWallMs: number;
  readonly before: FindCursor;
}

const IN_RANGE = 'place.opened_wall_ms >= ? AND (place.opened_wall_ms, place.first_seq) < (?, ?)';
const ALSO = `EXISTS (SELECT 1 FROM marks WHERE kind = ? AND value = ?
  AND opened_wall_ms = place.opened_wall_ms AND first_seq = place.first_seq)`;
const OF_PATIENT = 'sessions.patient_code >= ? AND sessions.patient_code < ?';

function planOf(walk: Walk, range: PlaceRange, also: readonly Mark[], patient: PatientRange | null): FindPlan {
  const joined = walk.sessions ? '' : ' CROSS JOIN sessions ON sessions.first_seq = place.first_seq';
  const named = walk.sessions ? 'place' : 'sessions';
  const withPatient = patient === null ? '' : ` AND ${OF_PATIENT.replaceAll('sessions.', `${named}.`)}`;
  const where = `${walk.where}${IN_RANGE}${also.map(() => ` AND ${ALSO}`).join('')}${withPatient}`;
  const bound = (before: FindCursor): (string | number)[] => [
    ...walk.bound,
    ...[range.fromWallMs, before.openedWallMs, before.firstSeq],
    ...also.flatMap(({ kind, value }) => [kind, value]),
    ...(patient === null ? [] : [patient.from, patient.to]),
  ];
  return {
    page: (what, cursor, limit) => ({
      sql: `SELECT ${named}.${what} FROM ${walk.from}${joined} WHERE ${where}
        ORDER BY place.opened_wall_ms DESC, place.first_seq DESC LIMIT ?`,
      bound: [...bound(earlier(cursor, range.before)), limit],
    }),
    all: (what) => ({
      sql: `SELECT ${named}.${what} FROM ${walk.from}${joined} WHERE ${where}`,
      bound: bound(range.before),
    }),
    count: (atMost) => ({
      sql: `SELECT count(*) FROM (SELECT 1 FROM ${walk.from}${patient === null ? '' : joined} WHERE ${where} LIMIT ?)`,
      bound: [...bound(range.before), atMost],
    }),
  };
}

function countOf(db: IndexFile, walk: Walk, { fromWallMs, before }: PlaceRange): number {
  const sql = `SELECT count(*) FROM (SELECT 1 FROM ${walk.from} WHERE ${walk.where}${IN_RANGE} LIMIT ?)`;
  const bound = [...walk.bound, fromWallMs, before.openedWallMs, before.firstSeq, COUNT_TO_CHOOSE];
  return (
    db
      .prepare<(string | number)[], number>(sql)
      .pluck()
      .get(...bound) ?? 0
  );
}

/** Further than any clock shows. */
const EVER_MS = 8_640_000_000_000_000;

/** Before any session that was opened at `toWallMs`: sequences begin at 1. */
const rangeOf = ({ fromWallMs = -EVER_MS, toWallMs = EVER_MS }: FindFilter): PlaceRange => ({
  fromWallMs,
  before: { openedWallMs: toWallMs, firstSeq: 0 },
});

function earlier(cursor: FindCursor | null, before: FindCursor): FindCursor {
  if (cursor === null) return before;
  return cursor.openedWallMs < before.openedWallMs ? cursor : before;
}

interface PatientRange {
  readonly from: string;
  readonly to: string;
}

/** Codes that begin so. They are of letters, digits and dashes, so nothing that begins so comes after `~`. */
function patientRange({ patientCode }: FindFilter): PatientRange | null {
  return patientCode === undefined ? null : { from: patientCode, to: `${patientCode}~` };
}
