import Database from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { FindFilter } from '../../core/ledger/find-filter.ts';
import { findPlan, type Query } from '../../electron/station/finding/find-query.ts';
import { indexFileOf } from '../../electron/station/finding/index-file.ts';
import { generatedLedger } from './generated-ledger.ts';

const ledger = generatedLedger(120, 3);

const EVERY: Required<FindFilter> = {
  fromWallMs: Date.UTC(2014, 0, 1),
  toWallMs: Date.UTC(2014, 5, 1),
  patientCode: 'K-1',
  lot: 'A1357',
  regimenId: 'label',
  eye: 'right',
  person: 'AM',
  state: 'discharged',
  deviation: 'any',
  practice: 'real',
};

/** Each way in which fields can be combined: 1024. */
const COMBINATIONS: readonly FindFilter[] = Object.entries(EVERY).reduce<FindFilter[]>(
  (filters, [field, value]) => filters.flatMap((filter) => [filter, { ...filter, [field]: value }]),
  [{}],
);

function planOf(db: Database.Database, { sql, bound }: Query): string[] {
  const rows = db.prepare<(string | number)[], { detail: string }>(`EXPLAIN QUERY PLAN ${sql}`).all(...bound);
  return rows.map(({ detail }) => detail);
}

/** A step that looks at every row of a table, or sorts what it found. */
const isSearch = (step: string): boolean =>
  /^(SEARCH .* USING (COVERING )?(INDEX|INTEGER PRIMARY KEY|PRIMARY KEY))/.test(step);
const isFrame = (step: string): boolean => /^(CORRELATED SCALAR SUBQUERY|CO-ROUTINE|SCAN \(subquery)/.test(step);
const isSort = (step: string): boolean => step === 'USE TEMP B-TREE FOR ORDER BY';

describe('SQLite, asked how it would answer', () => {
  const opened = (): Database.Database => {
    const db = new Database(indexFileOf(ledger.copy()));
    onTestFinished(() => void db.close());
    return db;
  };

  test.each([
    ['the first page', null],
    ['a later page', { openedWallMs: Date.UTC(2014, 1, 1), firstSeq: 1000 }],
  ])('%s: every step of every combination of fields is a search by an index', (_name, cursor) => {
    const db = opened();
    const astray = COMBINATIONS.flatMap((filter) => {
      const plan = findPlan(db, filter);
      return [plan.page('shown', cursor, 50), plan.count(1000), plan.all('clinic')].flatMap((query) =>
        planOf(db, query)
          .filter((step) => !isSearch(step) && !isFrame(step) && !isSort(step))
          .map((step) => `${Object.keys(filter)}: ${step}`),
      );
    });
    expect(COMBINATIONS).toHaveLength(1024);
    expect(astray).toStrictEqual([]);
  });

  test('nothing is sorted, but for the few sessions of one patient', () => {
    const db = opened();
    const sorted = COMBINATIONS.filter((filter) =>
      planOf(db, findPlan(db, filter).page('shown', null, 50)).some(isSort),
    );
    expect(sorted.filter(({ patientCode }) => patientCode === undefined)).toStrictEqual([]);
    expect(sorted.length).toBeGreaterThan(0);
  });
});
