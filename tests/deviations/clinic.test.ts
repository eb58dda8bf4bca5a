import fc from 'fast-check';
import { max, median, min, quantile } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { percentile } from '../../core/ledger/clinic/percentile.ts';
import { type ClinicSession, clinicFigures, clinicSession } from '../../core/ledger/clinic.ts';
import { DEVIATION_IDS, deviationsOf } from '../../core/ledger/deviations.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { seeded } from './seeded-session.ts';

const FIRST_WALL_MS = Date.UTC(2031, 0, 15);
const MONTHS_MS = 14 * 30 * 86_400_000;

const PLAIN: ClinicSession = {
  openedWallMs: FIRST_WALL_MS,
  offsetMin: 60,
  lightStartOffsetsMs: [],
  infusionRanMs: null,
  flushMs: null,
  holds: [],
  deviations: [],
};

const session: fc.Arbitrary<ClinicSession> = fc.record({
  openedWallMs: fc.integer({ min: 0, max: MONTHS_MS }).map((afterMs) => FIRST_WALL_MS + afterMs),
  offsetMin: fc.constantFrom(-480, 0, 60, 330, 765),
  lightStartOffsetsMs: fc.array(fc.integer({ min: -120_000, max: 300_000 }), { maxLength: 1 }),
  infusionRanMs: fc.option(fc.integer({ min: 1000, max: 1_500_000 })),
  flushMs: fc.option(fc.integer({ min: 1000, max: 200_000 })),
  holds: fc.array(fc.record({ reason: fc.constantFrom('pain', 'pump'), heldMs: fc.option(fc.nat(300_000)) }), {
    maxLength: 3,
  }),
  deviations: fc.subarray([...DEVIATION_IDS]),
});
const sessions = fc.array(session, { minLength: 1, maxLength: 60 });

describe('percentiles', () => {
  /*
   * The definition checked against an independent one: `quantile` of simple-statistics 7.12.1, which interpolates
   * linearly at (n - 1) p: type 7 of R, the same.
   */
  test('are those of an independent library by the same definition', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 1 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, p) => {
          const sorted = [...values].sort((one, other) => one - other);
          expect(percentile(sorted, p)).toBeCloseTo(quantile(values, p), 6);
          expect(percentile(sorted, 0.5)).toBeCloseTo(median(values), 6);
          expect([percentile(sorted, 0), percentile(sorted, 1)]).toEqual([min(values), max(values)]);
        },
      ),
    );
  });

  test('lie where the definition puts them: (n - 1) p steps from the first', () => {
    expect(percentile([10, 20, 30, 40], 0.25)).toBe(17.5);
    expect(percentile([10, 20, 30, 40], 0.95)).toBeCloseTo(38.5, 9);
    expect(percentile([7], 0.05)).toBe(7);
  });

  test('of nothing, or by what is no share, are refused', () => {
    expect(() => percentile([], 0.5)).toThrow(RangeError);
    for (const p of [-0.1, 1.1, Number.NaN]) expect(() => percentile([1, 2], p)).toThrow(RangeError);
  });
});

describe('a clinic over its sessions', () => {
  test('none at all: nothing to draw, and no number made up', () => {
    expect(clinicFigures([], DEFAULT_LIMITS)).toEqual({
      sessions: 0,
      lightStarts: { points: [], medianMs: null, limitMs: 30_000, outside: 0 },
      infusions: null,
      flushes: null,
      deviations: { months: [], sessions: [], kinds: [] },
      holds: [],
    });
  });

  test('run chart: every light start once, in the order of opening, with the median and what is outside the limits', () => {
    fc.assert(
      fc.property(sessions, fc.integer({ min: 0, max: 200 }), (list, lightStartWithinS) => {
        const { points, medianMs, limitMs, outside } = clinicFigures(list, {
          ...DEFAULT_LIMITS,
          lightStartWithinS,
        }).lightStarts;
        const starts = list.flatMap(({ lightStartOffsetsMs }) => lightStartOffsetsMs);
        expect(points.map(({ offsetMs }) => offsetMs).sort()).toEqual([...starts].sort());
        const opened = points.map(({ openedWallMs }) => openedWallMs);
        expect(opened).toEqual([...opened].sort((one, other) => one - other));
        expect(limitMs).toBe(lightStartWithinS * 1000);
        if (medianMs !== null) expect(medianMs).toBeCloseTo(median(starts), 6);
        expect(medianMs === null).toBe(starts.length === 0);
        expect(outside).toBe(starts.filter((ms) => ms < -limitMs || ms > limitMs).length);
      }),
    );
  });

  test('distributions: bins without a gap hold every value once, and are few', () => {
    fc.assert(
      fc.property(sessions, (list) => {
        const { infusions, flushes } = clinicFigures(list, DEFAULT_LIMITS);
        for (const [found, values] of [
          [infusions, list.flatMap(({ infusionRanMs }) => infusionRanMs ?? [])],
          [flushes, list.flatMap(({ flushMs }) => flushMs ?? [])],
        ] as const) {
          expect(found === null).toBe(values.length === 0);
          if (found === null) continue;
          expect(found.count).toBe(values.length);
          expect(found.bins.length).toBeLessThanOrEqual(41);
          for (const { fromMs, toMs, count } of found.bins) {
            expect(count).toBe(values.filter((value) => value >= fromMs && value < toMs).length);
          }
          const edges = found.bins.slice(1).map(({ fromMs }, index) => fromMs - (found.bins[index]?.toMs ?? 0));
          expect(edges.every((gap) => gap === 0)).toBe(true);
          expect(found.bins.reduce((sum, { count }) => sum + count, 0)).toBe(values.length);
          expect(found.p5Ms).toBeCloseTo(quantile(values, 0.05), 6);
          expect(found.p95Ms).toBeCloseTo(quantile(values, 0.95), 6);
        }
      }),
    );
  });

  test('deviations by kind and month: each is counted in the month of its own zone, and months have no gap', () => {
    fc.assert(
      fc.property(sessions, (list) => {
        const { months, sessions: counted, kinds } = clinicFigures(list, DEFAULT_LIMITS).deviations;
        const monthOf = ({ openedWallMs, offsetMin }: ClinicSession): string => {
          const local = new Date(openedWallMs + offsetMin * 60_000);
          return `${local.getUTCFullYear()}-${String(local.getUTCMonth() + 1).padStart(2, '0')}`;
        };
        expect(counted).toEqual(months.map((month) => list.filter((one) => monthOf(one) === month).length));
        expect(counted.reduce((sum, count) => sum + count, 0)).toBe(list.length);
        for (const { id, counts } of kinds) {
          const having = list.filter(({ deviations }) => deviations.includes(id));
          expect(counts).toEqual(months.map((month) => having.filter((one) => monthOf(one) === month).length));
          expect(having.length).toBeGreaterThan(0);
        }
        const named = new Set(list.flatMap(({ deviations }) => deviations));
        expect(kinds.map(({ id }) => id)).toEqual(DEVIATION_IDS.filter((id) => named.has(id)));
        const steps = months.map((month) => Number(month.slice(0, 4)) * 12 + Number(month.slice(5)));
        expect(steps.slice(1).every((step, index) => step - (steps[index] ?? 0) === 1)).toBe(true);
      }),
    );
  });

  test('the last evening of a month is of that month where the clinic is, whatever the month is in UTC', () => {
    const evening = { ...PLAIN, openedWallMs: Date.UTC(2031, 5, 1, 2, 0), offsetMin: -480 };
    const morning = { ...PLAIN, openedWallMs: Date.UTC(2031, 4, 31, 22, 0), offsetMin: 330 };
    expect(clinicFigures([evening], DEFAULT_LIMITS).deviations.months).toEqual(['2031-05']);
    expect(clinicFigures([morning], DEFAULT_LIMITS).deviations.months).toEqual(['2031-06']);
  });

  test('holds by reason, the commonest first; one that still lasts is counted, its time is not', () => {
    const holds = [
      { reason: 'pump', heldMs: 5000 },
      { reason: 'pain', heldMs: 20_000 },
      { reason: 'pain', heldMs: null },
    ] as const;
    expect(
      clinicFigures(
        [
          { ...PLAIN, holds },
          { ...PLAIN, holds: holds.slice(1, 2) },
        ],
        DEFAULT_LIMITS,
      ).holds,
    ).toEqual([
      { reason: 'pain', holds: 3, heldMs: 40_000 },
      { reason: 'pump', holds: 1, heldMs: 5000 },
    ]);
  });

  test('the order in which sessions are given does not matter', () => {
    fc.assert(
      fc.property(fc.uniqueArray(session, { selector: ({ openedWallMs }) => openedWallMs, maxLength: 20 }), (list) => {
        const turned = clinicFigures([...list].reverse(), DEFAULT_LIMITS);
        expect(turned).toEqual(clinicFigures(list, DEFAULT_LIMITS));
      }),
    );
  });

  test('what a session brings to it is what was measured', () => {
    const { measures } = seeded({ heldMs: 25_000, lightMs: 45_000, flushMs: 12_000 });
    const ids = deviationsOf(measures, DEFAULT_LIMITS).map(({ ruleId }) => ruleId);
    expect(clinicSession(measures, ids)).toMatchObject({
      lightStartOffsetsMs: [45_000],
      infusionRanMs: 600_000,
      flushMs: 72_000,
      holds: [{ reason: 'pain', heldMs: 25_000 }],
      deviations: ['infusion-held', 'light-late'],
    });
  });
});
