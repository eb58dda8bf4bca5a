import type { Source } from '../../regimen/source.ts';
import type { Limits } from '../../settings/limits.ts';
import type { SessionMeasures } from '../measures.ts';

export type DeviationUnit = 's' | 'min' | 'mg' | '%';

/** One way in which a session can depart from its plan. */
export interface DeviationRule {
  readonly id: string;
  /** As short as a list has room for. */
  readonly title: string;
  /** The field of the limits that it is held against; null where there is none. */
  readonly setting: keyof Limits | null;
  /** Of value and limit; null where it is not a matter of how much. */
  readonly unit: DeviationUnit | null;
  /** Where the limit comes from, or that there is none to come from. */
  readonly source: Source;
  /** Every place where a session departs in this way. Pure. */
  readonly find: (measures: SessionMeasures, limits: Limits) => readonly Finding[];
}

export interface Finding {
  /** The entry it points at. */
  readonly seq: number;
  /** How far, in the rule's unit; null where it is not a matter of how much, or not known. */
  readonly value: number | null;
  /** How far it may be, in the rule's unit; null where there is no limit to it. */
  readonly limit: number | null;
  /** In plain words. */
  readonly words: string;
}
