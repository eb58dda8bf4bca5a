import type { DeviationId } from '../../core/ledger/deviations.ts';
import type { CueId } from '../../core/procedure/cue-table.ts';
import type { Chance } from '../../electron/faults/chance.ts';
import { NURSE, SECOND_NURSE } from '../session-steps.ts';
import type { CoursePlan, Timed } from './course.ts';

/** Parts of a session that only one seed at a time may touch. */
type Part = (typeof AFTER_PLANNING)[number] | 'check';

/** What a session that is stopped may not come to. */
const AFTER_PLANNING = [
  'infusion',
  'flush',
  'light',
  'second eye',
  'exposure',
  'cue',
  'computer',
  'drug',
  'line',
  'filter',
  'stated',
] as const;

/** One way in which made-up sessions go wrong: how often, how, and what a reading must then find. */
export interface Seed {
  readonly name: string;
  /** Share of the sessions that it fits. */
  readonly rate: number;
  readonly parts: readonly Part[];
  readonly finds: readonly DeviationId[];
  readonly fits?: (plan: CoursePlan) => boolean;
  readonly change: (plan: CoursePlan, chance: Chance) => CoursePlan;
}

const between = (chance: Chance, least: number, most: number): number => least + chance.below(most - least + 1);
const goingOn = (plan: CoursePlan, step: string): CoursePlan => ({ ...plan, overridden: [...plan.overridden, step] });
const adding = (plan: CoursePlan, ...added: Timed[]): CoursePlan => ({ ...plan, added: [...plan.added, ...added] });
const firstEye = (plan: CoursePlan): string => plan.lesions[0]?.eye ?? 'right';
const secondEye = (plan: CoursePlan): string => plan.lesions[1]?.eye ?? 'left';
const twoEyes = (plan: CoursePlan): boolean => plan.lesions.length > 1;
const hasLimit = (plan: CoursePlan): boolean => twoEyes(plan) && plan.regimen.secondEyeLimitMin !== null;

/** Times at which nothing else is entered, seconds after the pump's press. */
const MID_INFUSION_S = 260;

const cueSeed = (becomes: 'late' | 'silent' | 'untold', finds: DeviationId): Seed => ({
  name: `cue ${becomes}`,
  rate: 0.02,
  parts: ['cue'],
  finds: [finds],
  change: (plan, chance) => ({ ...plan, cue: { id: chance.among(ALWAYS_SOUNDED), becomes } }),
});
/** Cues that sound in every session that is not stopped, once or more. */
const ALWAYS_SOUNDED: readonly CueId[] = ['infusion-end', 'light-window-open'];

const stopSeed = (
  where: string,
  finds: readonly DeviationId[],
  atS: (plan: CoursePlan, chance: Chance) => number,
): Seed => ({
  name: `stopped ${where}`,
  rate: 0.006,
  parts: AFTER_PLANNING,
  finds: ['stopped-early', ...finds],
  change: (plan, chance) => ({ ...plan, stopAtS: atS(plan, chance) }),
});

/**
 * One row a seed. `check-by-same-hands` is not among them: the procedure refuses such a check, so that no ledger it
 * wrote can hold one.
 */
export const SEEDS: readonly Seed[] = [
  stopSeed('in planning', [], (_plan, chance) => between(chance, -440, -310)),
  stopSeed('prepared', [], (_plan, chance) => between(chance, -250, -200)),
  stopSeed('primed', [], (_plan, chance) => between(chance, -140, -20)),
  stopSeed('infusing', ['flush-skipped', 'light-short', 'infusion-short'], (_plan, chance) =>
    between(chance, 100, 400),
  ),
  stopSeed('waiting', ['light-short'], ({ regimen }) => regimen.lightStartMin * 60 - 17),
  {
    name: 'light early',
    rate: 0.01,
    parts: ['light', 'flush', 'infusion', 'cue'],
    finds: ['light-early', 'guard-overridden'],
    fits: ({ regimen }) => regimen.lightStartMin - regimen.infusionMin > 3,
    change: (plan, chance) => goingOn({ ...plan, lightOffsetS: -between(chance, 40, 90) }, `beam-on:${firstEye(plan)}`),
  },
  {
    name: 'light late',
    rate: 0.05,
    parts: ['light'],
    finds: ['light-late'],
    change: (plan, chance) => ({ ...plan, lightOffsetS: between(chance, 40, 70) }),
  },
  {
    name: 'second eye late',
    rate: 0.05,
    parts: ['second eye'],
    finds: ['second-eye-late', 'guard-overridden'],
    fits: hasLimit,
    change: (plan, chance) =>
      goingOn({ ...plan, secondEyeOffsetS: between(chance, 5, 60) }, `beam-on:${secondEye(plan)}`),
  },
  {
    name: 'infusion short',
    rate: 0.015,
    parts: ['infusion', 'flush', 'cue'],
    finds: ['infusion-short', 'guard-overridden'],
    change: (plan, chance) => goingOn({ ...plan, infusionOffsetS: -between(chance, 40, 90) }, 'begin-flush'),
  },
  {
    name: 'infusion long',
    rate: 0.02,
    parts: ['infusion', 'flush'],
    finds: ['infusion-long'],
    change: (plan, chance) => ({ ...plan, infusionOffsetS: between(chance, 32, 44) }),
  },
  {
    name: 'infusion held',
    rate: 0.04,
    parts: ['infusion', 'flush'],
    finds: ['infusion-held'],
    change: (plan, chance) => ({ ...plan, hold: { atS: between(chance, 90, 200), forS: between(chance, 12, 40) } }),
  },
  {
    name: 'flush short',
    rate: 0.015,
    parts: ['flush', 'infusion'],
    finds: ['flush-short', 'guard-overridden'],
    change: (plan, chance) => goingOn({ ...plan, flushS: between(chance, 15, 28) }, 'end-flush'),
  },
  {
    name: 'flush long',
    rate: 0.02,
    parts: ['flush', 'infusion'],
    finds: ['flush-long'],
    change: (plan, chance) => ({ ...plan, flushS: between(chance, 92, 100) }),
  },
  {
    name: 'drug left in the line',
    rate: 0.01,
    parts: ['line'],
    finds: ['drug-left-in-line', 'guard-overridden'],
    change: (plan) => goingOn({ ...plan, flushMl: 0.5 }, 'end-flush'),
  },
  {
    name: 'used after its time',
    rate: 0.005,
    parts: ['drug'],
    finds: ['in-use-exceeded'],
    change: (plan, chance) => ({ ...plan, reconstitutedAgoS: 4 * 3600 - 300 - between(chance, 60, 240) }),
  },
  {
    name: 'light short',
    rate: 0.015,
    parts: ['exposure'],
    finds: ['light-short', 'guard-overridden'],
    change: (plan, chance) =>
      ['end-light', ...(twoEyes(plan) ? [`beam-on:${secondEye(plan)}`] : [])].reduce(goingOn, {
        ...plan,
        exposureOffsetS: -between(chance, 10, 25),
      }),
  },
  {
    name: 'light over',
    rate: 0.01,
    parts: ['exposure'],
    finds: ['light-over'],
    change: (plan, chance) => ({ ...plan, exposureOffsetS: between(chance, 3, 9) }),
  },
  {
    name: 'pump pressed late',
    rate: 0.02,
    parts: ['infusion'],
    finds: ['late-press'],
    change: (plan, chance) => ({ ...plan, setBackS: between(chance, 3, 10) }),
  },
  {
    name: 'went on without the filter',
    rate: 0.015,
    parts: ['filter'],
    finds: ['guard-overridden'],
    change: (plan) => goingOn({ ...plan, without: [...plan.without, 'filter'] }, 'start-pump'),
  },
  {
    name: 'computer slept',
    rate: 0.01,
    parts: ['computer', 'infusion'],
    finds: ['computer-slept'],
    change: (plan, chance) => {
      const sleptMs = between(chance, 5, 40) * 1000;
      const slept = { kind: 'slept', sleptMs, byWallMs: sleptMs, asleepMs: sleptMs } as const;
      return adding(
        plan,
        { name: 'slept', atS: MID_INFUSION_S, by: NURSE, what: slept },
        { name: 'looked', atS: MID_INFUSION_S + 20, by: NURSE, what: { kind: 'looked', pump: 'ran on' } },
      );
    },
  },
  {
    name: 'started anew',
    rate: 0.004,
    parts: ['computer', 'infusion'],
    finds: ['instants-rebased'],
    change: (plan) =>
      adding(plan, {
        name: 'started-anew',
        atS: MID_INFUSION_S,
        by: NURSE,
        what: { kind: 'started-anew', shiftMs: -1_000_000 },
      }),
  },
  {
    name: 'clock stepped',
    rate: 0.006,
    parts: ['computer'],
    finds: ['clock-stepped'],
    change: (plan, chance) =>
      adding(plan, {
        name: 'clock-stepped',
        atS: MID_INFUSION_S + 7,
        by: NURSE,
        what: { kind: 'clock-stepped', byMs: between(chance, 3, 90) * 1000 },
      }),
  },
  {
    name: 'zone changed',
    rate: 0.002,
    parts: ['computer'],
    finds: ['zone-changed'],
    change: (plan) =>
      adding(plan, {
        name: 'zone-changed',
        atS: MID_INFUSION_S + 9,
        by: NURSE,
        what: { kind: 'zone-changed', byMin: 60 },
      }),
  },
  cueSeed('late', 'cue-late'),
  cueSeed('silent', 'cue-silent'),
  cueSeed('untold', 'cue-missing'),
  {
    name: 'agreed after a difference',
    rate: 0.02,
    parts: ['check'],
    finds: ['check-after-difference'],
    change: (plan) =>
      adding(plan, {
        name: 'first second-check',
        atS: -470,
        by: SECOND_NURSE,
        what: {
          kind: 'second-check',
          heightCm: 168,
          weightKg: 75.1,
          regimenId: plan.regimen.id,
          lesions: [...plan.lesions],
        },
      }),
  },
  {
    name: 'deviation stated',
    rate: 0.03,
    parts: ['stated'],
    finds: ['stated'],
    change: (plan) =>
      adding(plan, {
        name: 'deviation',
        atS: 180,
        by: NURSE,
        what: { kind: 'deviation', words: 'the lamp of the slit lamp was changed', reason: 'it had failed' },
      }),
  },
];
