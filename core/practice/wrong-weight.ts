import { type SessionRecord, stateOf } from '../procedure/record.ts';
import type { Judged } from './judging.ts';
import { part } from './part.ts';
import type { Thrown } from './thrown.ts';

/**
 * What the scale is said to show, kg: 6 to 14 % less than was entered first, enough for another dose. Nobody is asked
 * to type anything wrong: it is the weight entered first that is declared to be wrong. Null where there is nothing to
 * weigh against, or where so little is no weight that can be entered.
 */
export function scaleKgFor({ sessionId, measured, plan, secondCheck }: SessionRecord): number | null {
  if (measured === null || plan === null || secondCheck !== null) return null;
  const share = 0.86 + 0.08 * part(sessionId, 'scale');
  const kg = Math.round(measured.weightKg * share * 10) / 10;
  return kg < LEAST_KG ? null : kg;
}

const LEAST_KG = 10;

/** Whether the first computation has the scale's weight; a scale shows tenths, and pounds may have been typed. */
export const isPutRight = ({ scaleKg }: Thrown, { measured }: SessionRecord): boolean =>
  scaleKg !== undefined && measured !== null && Math.abs(measured.weightKg - scaleKg) <= 0.05;

/**
 * Whether any drug was made up for another weight than the scale's: that both agree says only that they have the same.
 * No time is asked for, since nobody is to hurry here.
 */
export function weightJudged(thrown: Thrown, record: SessionRecord): Judged {
  const right = isPutRight(thrown, record);
  const agreed = record.secondCheck?.agrees === true;
  if (record.reached.some(({ state }) => state === 'prepared')) {
    return right ? { became: 'met', tookMs: null } : { became: 'missed' };
  }
  if ((right && agreed) || stateOf(record) !== 'planning') return { became: 'met', tookMs: null };
  return { became: 'open', overdue: agreed };
}
