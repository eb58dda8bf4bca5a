import type { Limits } from '../settings/limits.ts';
import { CONDUCT_RULES } from './deviations/conduct.ts';
import { DRUG_RULES } from './deviations/drug.ts';
import { LIGHT_RULES } from './deviations/light.ts';
import { MACHINE_RULES } from './deviations/machine.ts';
import type { DeviationRule, DeviationUnit, Finding } from './deviations/shape.ts';
import type { SessionMeasures } from './measures.ts';

export type { DeviationUnit } from './deviations/shape.ts';

const ALL_RULES = [...LIGHT_RULES, ...DRUG_RULES, ...CONDUCT_RULES, ...MACHINE_RULES] as const;

export type DeviationId = (typeof ALL_RULES)[number]['id'];

type KnownRule = DeviationRule & { readonly id: DeviationId };

/** Every way in which a session can depart from its plan, the gravest kind first. */
export const DEVIATION_RULES: readonly KnownRule[] = ALL_RULES;

export const DEVIATION_IDS = ALL_RULES.map(({ id }) => id) as [DeviationId, ...DeviationId[]];

/** Where a session departs from its plan. Computed whenever it is read, and never stored with the session. */
export interface FoundDeviation extends Finding {
  readonly ruleId: DeviationId;
  /** Of value and limit. */
  readonly unit: DeviationUnit | null;
}

/** Every deviation of a session, in order of the entries they point at. Pure: a changed limit reads the past anew. */
export function deviationsOf(measures: SessionMeasures, limits: Limits): FoundDeviation[] {
  return DEVIATION_RULES.flatMap(({ id, unit, find }) =>
    find(measures, limits).map((finding): FoundDeviation => ({ ruleId: id, unit, ...finding })),
  ).sort((one, other) => one.seq - other.seq);
}

/** The rule of that id. */
export function ruleById(id: DeviationId): KnownRule {
  const rule = DEVIATION_RULES.find((one) => one.id === id);
  if (rule === undefined) throw new RangeError(`there is no deviation rule "${id}"`);
  return rule;
}
