import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deviationsOf } from '../../core/ledger/deviations.ts';
import { canonicalJson, type Entry } from '../../core/ledger/entry.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import type { Extract } from '../../core/report/extract.ts';
import type { Cell } from '../../core/report/tables/column.ts';
import { ENTRY_COLUMNS, entriesTable } from '../../core/report/tables/entries-table.ts';
import { SESSION_COLUMNS, sessionsTable } from '../../core/report/tables/sessions-table.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { csvOf, unguarded } from '../../electron/export/csv.ts';
import { atOf, NURSE, ONE_EYE, type Step, stepsBefore, T0_AT_MS, TWO_EYES } from '../session-steps.ts';
import { chainOf, extractOf, extractOfSteps } from './ledger-of.ts';

/** A reader of another make: it knows nothing of how the file was written but RFC 4180. */
const rowsOf = (lines: Iterable<readonly Cell[]>): string[][] =>
  parse([...csvOf(lines)].join(''), { record_delimiter: '\r\n' }) as string[][];

/** The same with the header's names, and the guard before formulas taken off again. */
const namedOf = (lines: Iterable<readonly Cell[]>): Record<string, string>[] => {
  const [header = [], ...rows] = rowsOf(lines);
  return rows.map((row) => Object.fromEntries(row.map((cell, index) => [header[index], unguarded(cell)])));
};

const entriesIn = (extract: Extract) => namedOf(entriesTable(extract));
const sessionsIn = (...extracts: Extract[]) => namedOf(sessionsTable(extracts, DEFAULT_LIMITS));

const noted = (words: string, steps: readonly Step[] = ONE_EYE): Step[] => [
  ...stepsBefore('prepare', steps),
  { name: 'note', atMs: atOf('prepare', steps) - 1, by: NURSE, command: { kind: 'note', words } },
];

/** The computer was started anew: its clock stands at `continuousMs` of another boot, and instants were moved onto it. */
const restarted = (last: Entry, toBoot: string, continuousMs: number, shiftMs: number): Entry => ({
  ...last,
  seq: last.seq + 1,
  kind: 'rebase',
  payload: { fromBoot: last.boot, toBoot, shiftMs },
  continuousMs,
  boot: toBoot,
});

describe('the entries of a session', () => {
  const extract = extractOfSteps(TWO_EYES);
  const rows = entriesIn(extract);

  test('are one line each, in order, with everything that the ledger holds of them', () => {
    expect(rows).toHaveLength(extract.entries.length);
    rows.forEach((row, index) => {
      const entry = extract.entries[index];
      if (entry === undefined) throw new Error('a line too many');
      expect(row).toStrictEqual({
        practice: '',
        seq: String(entry.seq),
        time: row.time,
        fromT0S: row.fromT0S,
        by: entry.author.initials,
        role: entry.author.role,
        kind: entry.kind,
        words: wordsFor(entry),
        payload: canonicalJson(entry.payload),
        sessionId: 'session-one',
        commandId: entry.commandId ?? '',
        continuousMs: String(entry.continuousMs),
        boot: entry.boot,
        prevHash: entry.prevHash,
        hash: entry.hash,
      });
      expect(JSON.parse(row.payload ?? '')).toStrictEqual(JSON.parse(JSON.stringify(entry.payload)));
    });
  });

  test('have wall times that another clock reads back to the millisecond, with the offset they were written under', () => {
    rows.forEach((row, index) => {
      expect(Date.parse(row.time ?? '')).toBe(extract.entries[index]?.wallMs);
      expect(row.time).toMatch(/^2031-03-03T\d\d:\d\d:\d\d\.\d{3}\+01:00$/);
    });
  });

  test('have seconds counted from the pump’s start, negative before it', () => {
    rows.forEach((row, index) => {
      const atMs = extract.entries[index]?.continuousMs ?? 0;
      expect(Number(row.fromT0S)).toBeCloseTo((atMs - T0_AT_MS) / 1000, 3);
    });
    expect(rows.find(({ kind }) => kind === 'start-pump')?.fromT0S).toBe('0');
  });

  test('have no seconds where no pump was started', () => {
    for (const { fromT0S } of entriesIn(extractOfSteps(stepsBefore('start-pump')))) expect(fromT0S).toBe('');
  });

  test('count on across restarts of the computer, by the estimates that were entered', () => {
    const before = extractOfSteps(stepsBefore('begin-flush'));
    const [last] = before.entries.slice(-1);
    if (last === undefined) throw new Error('there is no entry');
    // Started anew 660 s and 700 s after the pump: each time the clock of the new boot began a little before.
    const second = restarted(last, 'boot-two', 5_000, 5_000 - (T0_AT_MS + 660_000));
    const third = restarted(second, 'boot-three', 3_000, 3_000 - (5_000 + 40_000));
    const rebased = entriesIn({ ...before, entries: [...before.entries, second, third] });
    expect(rebased.slice(-2).map(({ fromT0S }) => fromT0S)).toStrictEqual(['660', '700']);
    expect(rebased.find(({ kind }) => kind === 'start-pump')?.fromT0S).toBe('0');
  });

  test('of practice say so on every line, and of others on none', () => {
    for (const row of entriesIn(extractOfSteps(ONE_EYE, true))) expect(row.practice).toBe('PRACTICE');
    for (const row of rows) expect(row.practice).toBe('');
  });

  test('have a header in which every name is told once, with what it holds', () => {
    for (const columns of [ENTRY_COLUMNS, SESSION_COLUMNS]) {
      expect(new Set(columns.map(({ name }) => name)).size).toBe(columns.length);
      for (const { says } of columns) expect(says.length).toBeGreaterThan(3);
    }
  });
});

describe('what people wrote', () => {
  const text = fc.oneof(
    fc.string({ unit: 'binary', minLength: 3, maxLength: 80 }),
    fc
      .array(
        fc.constantFrom('"', ',', ';', '\r', '\n', '\t', "'", '=', '+', '-', '@', '＝', '€', '\u2028', 'ß', '漢', '😀'),
        {
          minLength: 3,
          maxLength: 20,
        },
      )
      .map((signs) => signs.join('')),
  );

  test('comes back letter for letter, whatever it is', () => {
    fc.assert(
      fc.property(text, fc.double({ noNaN: true }), (words, number) => {
        const [row = []] = rowsOf([[words, number, null, '', words]]);
        expect(row.map(unguarded)).toStrictEqual([words, String(number), '', '', words]);
      }),
      { numRuns: 500 },
    );
  });

  test('comes back from a note in a session', () => {
    fc.assert(
      fc.property(text, (words) => {
        fc.pre(words.trim().length >= 3);
        const row = entriesIn(extractOfSteps(noted(words))).at(-1);
        expect(row?.words).toBe(`note: ${words}`);
        expect(JSON.parse(row?.payload ?? '')).toStrictEqual({ words });
      }),
      { numRuns: 60 },
    );
  });

  test('is never taken for a formula by a spreadsheet: it begins with none of its signs', () => {
    fc.assert(
      fc.property(fc.constantFrom('=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'), text, (sign, rest) => {
        const [[cell = ''] = []] = rowsOf([[`${sign}${rest}`]]);
        expect(cell).toBe(`'${sign}${rest}`);
      }),
    );
  });

  test('is left as it is where no spreadsheet would take it for a formula, and a negative number stays a number', () => {
    expect([...csvOf([['patient 3', -4.5, '']])]).toStrictEqual(['"patient 3",-4.5,""\r\n']);
  });
});

describe('the sessions of a ledger', () => {
  const chain = chainOf([
    { id: 'first', steps: TWO_EYES },
    { id: 'second', steps: stepsBefore('end-flush'), practice: true },
    { id: 'third', steps: stepsBefore('second-check') },
  ]);
  const [first, second, third] = ['first', 'second', 'third'].map((id) => extractOf(chain, id)) as [
    Extract,
    Extract,
    Extract,
  ];
  const rows = sessionsIn(first, second, third);

  test('are one line each, with the measures and the deviations of each', () => {
    const measures = measuresOf(first.entries, first.stationEntries);
    const deviations = deviationsOf(measures, DEFAULT_LIMITS);
    expect(rows).toHaveLength(3);
    expect(rows[0]).toMatchObject({
      sessionId: 'first',
      state: 'discharged',
      patientCode: 'K-2041',
      regimenId: 'label',
      eyes: 'right; left',
      lots: 'A1027',
      people: 'MO nurse; TK nurse; RV operator',
      infusionPlannedS: String((measures.infusion?.plannedMs ?? 0) / 1000),
      infusionRanS: String((measures.infusion?.ranMs ?? 0) / 1000),
      flushMl: '5',
      lightStartFromDueS: String((measures.light?.startOffsetMs ?? Number.NaN) / 1000),
      leftDeliveredS: '83',
      rightOrderedJPerCm2: '50',
      deviations: String(deviations.length),
      entries: String(first.entries.length),
      lastHash: first.entries.at(-1)?.hash,
      trouble: '',
    });
    for (const { words } of deviations) expect(rows[0]?.deviationWords).toContain(words);
  });

  test('say PRACTICE on the lines of practice alone', () => {
    expect(rows.map(({ practice }) => practice)).toStrictEqual(['', 'PRACTICE', '']);
  });

  test('show nothing of an order that a second person has yet to compute, and say why', () => {
    expect(rows[2]).toMatchObject({ regimenId: '', eyes: '', deviations: '', deviationIds: '' });
    expect(rows[2]?.trouble).toMatch(/withheld until a second person/);
    expect(Object.values(rows[2] ?? {}).join(' ')).not.toMatch(/right|label/i);
  });

  test('of which one is damaged are told all the same, up to the damage', () => {
    const bent = { ...first, entries: first.entries.filter(({ kind }) => kind !== 'prepare') };
    const torn: Extract = { ...first, entries: [], unreadable: [{ seq: 2, says: 'not JSON' }] };
    const [one, other] = sessionsIn(bent, torn);
    expect(one?.trouble).toMatch(/^read to the entry before \d+: /);
    expect(one?.patientCode).toBe('K-2041');
    expect(other).toMatchObject({ sessionId: 'first', trouble: 'entry 2: not JSON', state: '' });
  });
});
