import type { DeviationId } from '../../core/ledger/deviations.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import type { Chance } from '../../electron/faults/chance.ts';
import { LEFT, NURSE, OPERATOR, RIGHT } from '../session-steps.ts';
import { type CoursePlan, ENDED_BY_LASER_S, type Timed } from './course.ts';
import { SEEDS, type Seed } from './seeds.ts';
import { type Template, templateOf } from './template.ts';

/** What a made-up session is like: enough to tell it from every other shape, and to play it once for many. */
export interface Shape {
  readonly key: string;
  readonly template: Template;
  readonly plan: CoursePlan;
}

/** Shapes of sessions as chance has them, each played through the machine once and kept. */
export class Shapes {
  private readonly known = new Map<string, Shape>();
  private readonly chance: Chance;

  constructor(chance: Chance) {
    this.chance = chance;
  }

  get played(): number {
    return this.known.size;
  }

  /** Seeds by their rates. `alone`: nothing else is under way, so that the computer may be started anew. */
  next(alone: boolean): Shape {
    const plan = plannedBy(this.chance);
    const seeds = seedsFor(plan, this.chance, alone);
    return this.shapeOf(plan, seeds, null);
  }

  /** A session without anything seeded that is left in the midst. */
  leftAfter(step: string): Shape {
    return this.shapeOf(plannedBy(this.chance), [], step);
  }

  private shapeOf(plan: CoursePlan, seeds: readonly Seed[], leftAfter: string | null): Shape {
    const variant = this.chance.below(VARIANTS);
    const eyes = plan.lesions.map(({ eye }) => eye).join('+');
    const key = [plan.regimen.id, eyes, plan.practice, ...seeds.map(({ name }) => name), leftAfter, variant].join('|');
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const varied = variedBy(this.chance, { ...plan, leftAfter });
    const changed = seeds.reduce((before, seed) => seed.change(before, this.chance), varied);
    const shape = { key, plan: changed, template: templateOf(changed, findsOf(seeds)) };
    this.known.set(key, shape);
    return shape;
  }
}

/** How many ways there are of doing the same in other seconds. */
const VARIANTS = 3;
const TWO_EYES_RATE = 0.2;
const PRACTICE_RATE = 0.03;

function plannedBy(chance: Chance): CoursePlan {
  const regimen = chance.share() < 0.6 ? REGIMENS[0] : chance.among(REGIMENS);
  if (regimen === undefined) throw new Error('there are no regimens');
  const one = chance.share() < 0.5 ? [RIGHT] : [LEFT];
  return {
    regimen,
    lesions: chance.share() < TWO_EYES_RATE ? [RIGHT, LEFT] : one,
    practice: chance.share() < PRACTICE_RATE,
    reconstitutedAgoS: 300,
    setBackS: null,
    hold: null,
    infusionOffsetS: 3,
    flushS: 62,
    flushMl: 5,
    lightOffsetS: 4,
    exposureOffsetS: ENDED_BY_LASER_S,
    secondEyeOffsetS: null,
    overridden: [],
    without: [],
    added: [],
    stopAtS: null,
    leftAfter: null,
    cue: null,
  };
}

/** As it differs from day to day, with nothing to find. */
function variedBy(chance: Chance, plan: CoursePlan): CoursePlan {
  return {
    ...plan,
    reconstitutedAgoS: 120 + chance.below(600),
    infusionOffsetS: 1 + chance.below(6),
    flushS: 58 + chance.below(6),
    lightOffsetS: 1 + chance.below(18),
    added: NOTES.slice(0, 1 + chance.below(NOTES.length)),
  };
}

const NOTES: readonly Timed[] = [
  { name: 'note', atS: 61, by: NURSE, what: { kind: 'note', words: 'vein at the left forearm, 22 gauge, runs well' } },
  { name: 'note', atS: 301, by: NURSE, what: { kind: 'note', words: 'no pain, patient is calm and warm' } },
  { name: 'note', atS: 441, by: OPERATOR, what: { kind: 'note', words: 'lens of the slit lamp cleaned and at hand' } },
  { name: 'note', atS: 31, by: NURSE, what: { kind: 'note', words: 'companion waits outside, sun glasses at hand' } },
];

/** Chance decides each seed by its rate; of two that touch the same part of a session, the first stays. */
function seedsFor(plan: CoursePlan, chance: Chance, alone: boolean): Seed[] {
  const touched = new Set<string>();
  return SEEDS.filter((seed) => {
    const drawn = chance.share() < seed.rate;
    const fits = (seed.fits?.(plan) ?? true) && (alone || seed.name !== 'started anew');
    if (!drawn || !fits || seed.parts.some((part) => touched.has(part))) return false;
    for (const part of seed.parts) touched.add(part);
    return true;
  });
}

const findsOf = (seeds: readonly Seed[]): DeviationId[] => [...new Set(seeds.flatMap(({ finds }) => finds))];
