import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  DEVIATION_IDS,
  DEVIATION_RULES,
  type DeviationId,
  deviationsOf,
  ruleById,
} from '../../core/ledger/deviations.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { ALL_SOUNDED, type CueFate, type Lived } from './lived-session.ts';
import { type Departures, seeded } from './seeded-session.ts';

const silent: CueFate = (cue, dueAtMs) =>
  cue === 'light-window-open' ? { outcome: 'silent', lateMs: 0 } : ALL_SOUNDED(cue, dueAtMs);
const untold: CueFate = (cue, dueAtMs) => (cue === 'exposure-end' ? null : ALL_SOUNDED(cue, dueAtMs));
const late: CueFate = (cue, dueAtMs) =>
  cue === 'infusion-end' ? { outcome: 'late', lateMs: 4000 } : ALL_SOUNDED(cue, dueAtMs);

/** One way to depart from the plan: what it is, what it is found as, and at which entry. */
interface Seed {
  readonly departures: Departures;
  readonly id: DeviationId;
  readonly at: (lived: Lived) => number;
}

const first = ({ entries }: Lived, kind: string): number => entries.find((entry) => entry.kind === kind)?.seq ?? 0;

/** None takes away what another needs: any of them may be in a session together. */
const SEEDS: readonly Seed[] = [
  { id: 'light-late', departures: { lightMs: 45_000 }, at: (lived) => first(lived, 'beam-on') },
  {
    id: 'second-eye-late',
    departures: { secondEyeMs: 20_000 },
    at: ({ seqOf }) => seqOf('beam-on', ({ eye }) => eye === 'left'),
  },
  { id: 'infusion-long', departures: { infusionMs: 40_000 }, at: ({ seqOf }) => seqOf('begin-flush') },
  { id: 'infusion-held', departures: { heldMs: 25_000 }, at: ({ seqOf }) => seqOf('hold') },
  { id: 'flush-long', departures: { flushMs: 35_000 }, at: ({ seqOf }) => seqOf('end-flush') },
  { id: 'in-use-exceeded', departures: { inUseMs: 14_500_000 }, at: ({ seqOf }) => seqOf('begin-flush') },
  { id: 'light-over', departures: { exposureMs: 6000 }, at: (lived) => first(lived, 'beam-off') },
  { id: 'late-press', departures: { pressedLateS: 9 }, at: ({ seqOf }) => seqOf('set-back') },
  {
    id: 'check-after-difference',
    departures: { checkAfterDifference: true },
    at: ({ entries }) => entries.findLast(({ kind }) => kind === 'second-check')?.seq ?? 0,
  },
  { id: 'guard-overridden', departures: { missingFilter: true }, at: ({ seqOf }) => seqOf('start-pump') },
  { id: 'stated', departures: { stated: true }, at: ({ seqOf }) => seqOf('deviation') },
  { id: 'computer-slept', departures: { sleptMs: 12_000 }, at: ({ seqOf }) => seqOf('slept') },
  { id: 'instants-rebased', departures: { rebasedByMs: -3_000_000 }, at: ({ seqOf }) => seqOf('rebase') },
  { id: 'clock-stepped', departures: { clockStepMs: -7000 }, at: ({ seqOf }) => seqOf('clock-stepped') },
  { id: 'zone-changed', departures: { zoneMin: 60 }, at: ({ seqOf }) => seqOf('zone-changed') },
];

/** One of them at most: they are about the same thing. */
const CUE_SEEDS: readonly Seed[] = [
  {
    id: 'cue-late',
    departures: { cues: late },
    at: ({ seqOf }) => seqOf('cue-sounded', ({ cue }) => cue === 'infusion-end'),
  },
  {
    id: 'cue-silent',
    departures: { cues: silent },
    at: ({ seqOf }) => seqOf('cue-sounded', ({ cue }) => cue === 'light-window-open'),
  },
  {
    id: 'cue-missing',
    departures: { cues: untold },
    at: ({ seqOf }) => seqOf('exposure-due', ({ eye }) => eye === 'right'),
  },
];

const pairs = (seeds: readonly Seed[], lived: Lived): string[] =>
  seeds.map((seed) => `${seed.id} ${seed.at(lived)}`).sort();

/** Steps that could not go on in time had a reason given, and stand as such; what is seeded here is the filter's. */
function found(lived: Lived): string[] {
  return deviationsOf(lived.measures, DEFAULT_LIMITS)
    .filter(({ ruleId, seq }) => ruleId !== 'guard-overridden' || seq === first(lived, 'start-pump'))
    .map(({ ruleId, seq }) => `${ruleId} ${seq}`)
    .sort();
}

test('a treatment as planned departs from nothing', () => {
  for (const lived of [seeded(), seeded({ secondEyeMs: -1000 })]) {
    expect(lived.measures.trouble).toBeNull();
    expect(deviationsOf(lived.measures, DEFAULT_LIMITS)).toEqual([]);
  }
});

test.each([...SEEDS, ...CUE_SEEDS])('$id is found where it was, and nothing else', (seed) => {
  const lived = seeded(seed.departures);
  expect(found(lived)).toEqual(pairs([seed], lived));
});

test('however many departures are in one session, each is found at its entry, and nothing else', () => {
  fc.assert(
    fc.property(fc.subarray([...SEEDS]), fc.option(fc.constantFrom(...CUE_SEEDS)), (some, cue) => {
      const seeds = cue === null || some.some(({ id }) => id === 'second-eye-late') ? some : [...some, cue];
      const lived = seeded(Object.assign({}, ...seeds.map(({ departures }) => departures)));
      expect(lived.measures.trouble).toBeNull();
      expect(found(lived)).toEqual(pairs(seeds, lived));
      const seqs = deviationsOf(lived.measures, DEFAULT_LIMITS).map(({ seq }) => seq);
      expect(seqs).toEqual([...seqs].sort((one, other) => one - other));
    }),
    { numRuns: 30 },
  );
});

test.each([
  ['while the pump runs', 220_000],
  ['after the light of the first eye', 1_190_000],
])('a restart of the machine %s changes no measure but those of the clock', (_when, rebasedAtMs) => {
  fc.assert(
    fc.property(fc.subarray([...SEEDS.filter(({ id }) => id !== 'instants-rebased')]), fc.integer(), (some, byMs) => {
      const departures: Departures = Object.assign({}, ...some.map((seed) => seed.departures));
      const straight = seeded(departures).measures;
      const restarted = seeded({ ...departures, rebasedByMs: byMs % 4_000_000, rebasedAtMs });
      const rebaseSeq = restarted.seqOf('rebase');
      const without = JSON.stringify(restarted.measures, (key, value) =>
        /(^seq|Seq|readTo)$/.test(key) && value > rebaseSeq ? value - 1 : value,
      );
      const { t0, clockEvents, entries, ...rest } = JSON.parse(without);
      const { t0: straightT0, clockEvents: straightClock, entries: straightEntries, ...expected } = straight;
      expect(rest).toEqual(expected);
      expect(entries).toBe(straightEntries + 1);
      expect(t0).toEqual({
        ...straightT0,
        boot: 'boot-two',
        continuousMs: 4_200_000 + (byMs % 4_000_000) - (straightT0?.setBackMs ?? 0),
      });
      expect(clockEvents.filter(({ what }: { what: string }) => what !== 're-based')).toEqual(straightClock);
    }),
    { numRuns: 10 },
  );
});

test('the same hands are seen in measures, though the procedure does not take such a check', () => {
  const { measures } = seeded();
  const [check] = measures.doubleChecks;
  if (check === undefined) throw new Error('no second computation');
  const same = { ...measures, doubleChecks: [{ ...check, by: 'MO', firstBy: ['MO'], sameHands: true }] };
  expect(deviationsOf(same, DEFAULT_LIMITS)).toMatchObject([{ ruleId: 'check-by-same-hands', seq: check.seq }]);
});

describe('the table of rules', () => {
  test('has each rule once, with words and a source, and every limit is held against by some rule', () => {
    expect(new Set(DEVIATION_IDS).size).toBe(DEVIATION_RULES.length);
    for (const { id, title, source } of DEVIATION_RULES) {
      expect(id).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(title.length).toBeLessThanOrEqual(45);
      expect(source.text).not.toBe('');
    }
    const settings = new Set(DEVIATION_RULES.flatMap(({ setting }) => setting ?? []));
    expect([...settings].sort()).toEqual(Object.keys(DEFAULT_LIMITS).sort());
  });

  test('a rule has a limit where it has a setting, and a unit wherever it has a value', () => {
    for (const { departures } of [...SEEDS, ...CUE_SEEDS]) {
      for (const { ruleId, value, limit, unit } of deviationsOf(seeded(departures).measures, DEFAULT_LIMITS)) {
        expect(limit === null).toBe(ruleById(ruleId).setting === null && ruleId !== 'second-eye-late');
        if (value !== null) expect(unit).not.toBeNull();
      }
    }
  });

  test('every rule is either seeded here or tried beside its limit', () => {
    const elsewhere = ['light-early', 'infusion-short', 'flush-short', 'light-short', 'drug-left-in-line'];
    const ended = ['flush-skipped', 'stopped-early', 'check-by-same-hands'];
    const here = [...SEEDS, ...CUE_SEEDS].map(({ id }) => id);
    expect([...here, ...elsewhere, ...ended].sort()).toEqual([...DEVIATION_IDS].sort());
  });
});

test('measures survive being kept as text', () => {
  for (const { departures } of [...SEEDS, ...CUE_SEEDS]) {
    const { measures, entries, stationEntries } = seeded(departures);
    expect(JSON.parse(JSON.stringify(measures))).toEqual(measures);
    expect(measuresOf(entries, stationEntries)).toEqual(measures);
  }
});
