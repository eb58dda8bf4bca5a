import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type DeviationId, deviationsOf, ruleById } from '../../core/ledger/deviations.ts';
import { DEFAULT_LIMITS, type Limits } from '../../core/settings/limits.ts';
import type { Lived } from './lived-session.ts';
import { type Departures, seeded } from './seeded-session.ts';

/** A rule that has a limit: how to depart from the plan by so much, and which entry tells of it. */
interface Limited {
  readonly id: DeviationId;
  readonly setting: keyof Limits;
  /** Departs by so many milliseconds, at least one. */
  readonly by: (ms: number) => Departures;
  readonly mostMs: number;
  /** Of the rule's unit. */
  readonly valueBy: (ms: number) => number;
  readonly at: (lived: Lived) => number;
}

const inSeconds = (ms: number): number => ms / 1000;
const beamOnRight = ({ seqOf }: Lived): number => seqOf('beam-on');
const ofOrdered = (ms: number): number => ms / 83_000;

const LIMITED: readonly Limited[] = [
  {
    id: 'light-early',
    setting: 'lightStartWithinS',
    by: (ms) => ({ lightMs: -ms }),
    mostMs: 120_000,
    valueBy: inSeconds,
    at: beamOnRight,
  },
  {
    id: 'light-late',
    setting: 'lightStartWithinS',
    by: (ms) => ({ lightMs: ms }),
    mostMs: 200_000,
    valueBy: inSeconds,
    at: beamOnRight,
  },
  {
    id: 'infusion-short',
    setting: 'infusionWithinS',
    by: (ms) => ({ infusionMs: -ms }),
    mostMs: 200_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('begin-flush'),
  },
  {
    id: 'infusion-long',
    setting: 'infusionWithinS',
    by: (ms) => ({ infusionMs: ms }),
    mostMs: 200_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('begin-flush'),
  },
  {
    id: 'infusion-held',
    setting: 'holdMaxS',
    by: (ms) => ({ heldMs: ms }),
    mostMs: 150_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('hold'),
  },
  {
    id: 'flush-short',
    setting: 'flushWithinS',
    by: (ms) => ({ flushMs: -ms }),
    mostMs: 59_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('end-flush'),
  },
  {
    id: 'flush-long',
    setting: 'flushWithinS',
    by: (ms) => ({ flushMs: ms }),
    mostMs: 200_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('end-flush'),
  },
  {
    id: 'in-use-exceeded',
    setting: 'inUseMaxMin',
    by: (ms) => ({ inUseMs: 5_400_000 + ms }),
    mostMs: 9_000_000,
    valueBy: (ms) => (5_400_000 + ms) / 60_000,
    at: ({ seqOf }) => seqOf('begin-flush'),
  },
  {
    id: 'light-short',
    setting: 'exposureWithinShare',
    by: (ms) => ({ exposureMs: -ms }),
    mostMs: 40_000,
    valueBy: ofOrdered,
    at: ({ seqOf }) => seqOf('beam-off'),
  },
  {
    id: 'light-over',
    setting: 'exposureWithinShare',
    by: (ms) => ({ exposureMs: ms }),
    mostMs: 40_000,
    valueBy: ofOrdered,
    at: ({ seqOf }) => seqOf('beam-off'),
  },
  {
    id: 'late-press',
    setting: 'latePressMaxS',
    by: (ms) => ({ pressedLateS: ms / 1000 }),
    mostMs: 120_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('set-back'),
  },
  {
    id: 'clock-stepped',
    setting: 'clockStepMaxS',
    by: (ms) => ({ clockStepMs: ms % 2 === 0 ? ms : -ms }),
    mostMs: 3_600_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('clock-stepped'),
  },
  {
    id: 'cue-late',
    setting: 'cueLateMaxS',
    by: (ms) => ({
      cues: (cue) => (cue === 'flush-end' ? { outcome: 'late', lateMs: ms } : { outcome: 'sounded', lateMs: 0 }),
    }),
    mostMs: 60_000,
    valueBy: inSeconds,
    at: ({ seqOf }) => seqOf('cue-sounded', ({ cue }) => cue === 'flush-end'),
  },
];

/** The widest that every limit can be set: nothing but the rule that is asked about can find anything. */
const WIDE: Limits = {
  lightStartWithinS: 600,
  infusionWithinS: 600,
  flushWithinS: 600,
  leftInLineMaxMg: 20,
  inUseMaxMin: 1440,
  exposureWithinShare: 0.5,
  holdMaxS: 3600,
  latePressMaxS: 300,
  clockStepMaxS: 3600,
  cueLateMaxS: 60,
};

/** With its reason given a step that is early or late stands as one that went on although something was missing. */
const measured = (lived: Lived, limits: Limits) =>
  deviationsOf(lived.measures, limits).filter(({ ruleId }) => ruleId !== 'guard-overridden');

describe.each(LIMITED)('$id', ({ id, setting, by, mostMs, valueBy, at }) => {
  test('says which setting it is held against', () => {
    expect(ruleById(id).setting).toBe(setting);
  });

  test('is found when it is over its limit, and only then, at the entry that tells of it', () => {
    const seen = { found: 0, within: 0 };
    fc.assert(
      fc.property(fc.integer({ min: 1, max: mostMs }), fc.integer({ min: -3, max: 3 }), (ms, aside) => {
        const lived = seeded(by(ms));
        const limit = Math.max(0, valueBy(ms) * (1 + aside / 100));
        const expected = valueBy(ms) > limit ? [id] : [];
        const found = measured(lived, { ...WIDE, [setting]: limit });
        expect(found.map(({ ruleId }) => ruleId)).toEqual(expected);
        for (const { seq, value, limit: held } of found) {
          const share = ruleById(id).unit === '%' ? 100 : 1;
          expect(seq).toBe(at(lived));
          expect(value).toBeCloseTo(valueBy(ms) * share, 3);
          expect(held).toBeCloseTo(limit * share, 3);
        }
        seen[found.length > 0 ? 'found' : 'within'] += 1;
      }),
      { numRuns: 14 },
    );
    expect(seen.found).toBeGreaterThan(0);
    expect(seen.within).toBeGreaterThan(0);
  });

  test('a limit that is met exactly is kept; a millisecond more is not', () => {
    const limitMs = setting === 'exposureWithinShare' ? 830 : setting === 'inUseMaxMin' ? 9_000_000 : 45_000;
    const limits = { ...WIDE, [setting]: Number(valueBy(limitMs).toFixed(6)) };
    expect(measured(seeded(by(limitMs)), limits)).toEqual([]);
    expect(measured(seeded(by(limitMs + 1)), limits).map(({ ruleId }) => ruleId)).toEqual([id]);
  });
});

test('drug left in the line is what the flush did not clear of the line, held against its limit', () => {
  // 1.5 mL of line, primed with diluent, hold 1.5 mL of infusate when the pump ends: 1 mL of flush leaves a third.
  const lived = seeded({ flushMl: 1 });
  // 168 cm and 71.5 kg are 1.827 m2 by Mosteller, 10.96 mg, drawn up as 5.5 mL of 2 mg/mL: 11 mg in 30 mL.
  const leftMg = (11 * 1.5) / 30 / 3;
  const [found] = measured(lived, { ...WIDE, leftInLineMaxMg: 0 });
  expect(found).toMatchObject({ ruleId: 'drug-left-in-line', seq: lived.seqOf('end-flush'), unit: 'mg', limit: 0 });
  expect(found?.value).toBeCloseTo(leftMg, 4);
  expect(measured(lived, { ...WIDE, leftInLineMaxMg: found?.value ?? 0 })).toEqual([]);
  expect(measured(seeded({ flushMl: 1.5 }), { ...WIDE, leftInLineMaxMg: 0 })).toEqual([]);
});

test('the second eye has the limit of its regimen, 20 min in the label, whatever the site has set', () => {
  fc.assert(
    fc.property(fc.integer({ min: -100_000, max: 100_000 }), (secondEyeMs) => {
      const lived = seeded({ secondEyeMs });
      const found = measured(lived, WIDE);
      if (secondEyeMs <= 0) expect(found).toEqual([]);
      else {
        const seq = lived.seqOf('beam-on', ({ eye }) => eye === 'left');
        expect(found).toMatchObject([
          { ruleId: 'second-eye-late', seq, value: secondEyeMs / 1000, limit: 0, unit: 's' },
        ]);
      }
    }),
    { numRuns: 12, examples: [[0], [1], [-1]] },
  );
});

test('a changed limit reads the same session anew', () => {
  const { measures } = seeded({ lightMs: 45_000, heldMs: 20_000, infusionMs: 31_000 });
  const kept = JSON.stringify(measures);
  const by = (limits: Partial<Limits>) =>
    deviationsOf(measures, { ...DEFAULT_LIMITS, ...limits })
      .map(({ ruleId }) => ruleId)
      .sort();
  expect(by({})).toEqual(['infusion-held', 'infusion-long', 'light-late']);
  expect(by({ lightStartWithinS: 60 })).toEqual(['infusion-held', 'infusion-long']);
  expect(by({ lightStartWithinS: 60, infusionWithinS: 31, holdMaxS: 20 })).toEqual([]);
  expect(by({})).toEqual(['infusion-held', 'infusion-long', 'light-late']);
  expect(JSON.stringify(measures)).toBe(kept);
});
