import type { DeviationRule } from './shape.ts';
import { fromStart, spanBeside } from './words.ts';

const LOCAL = { text: 'local practice', sure: 'local' } as const;
const TWO_PEOPLE = {
  text: 'independent double check, second person working alone: common in medication safety',
  sure: 'memory',
} as const;

/** Departures in how the procedure was conducted and entered. */
export const CONDUCT_RULES = [
  {
    id: 'check-by-same-hands',
    title: 'double check by the same hands',
    setting: null,
    unit: null,
    source: TWO_PEOPLE,
    find: ({ doubleChecks }) =>
      doubleChecks
        .filter(({ sameHands }) => sameHands)
        .map(({ seq, by }) => ({
          seq,
          value: null,
          limit: null,
          words: `${by} entered both the first and the second computation of the dose`,
        })),
  },
  {
    id: 'check-after-difference',
    title: 'double check agreed after a difference',
    setting: null,
    unit: null,
    source: TWO_PEOPLE,
    find: ({ doubleChecks }) =>
      doubleChecks
        .filter(({ agrees, afterDifference }) => agrees && afterDifference)
        .map(({ seq, by }) => ({
          seq,
          value: null,
          limit: null,
          words: `the second computation, by ${by}, agreed only after a difference had been shown`,
        })),
  },
  {
    id: 'guard-overridden',
    title: 'went on although something was missing',
    setting: null,
    unit: null,
    source: LOCAL,
    find: ({ overriddenGuards }) =>
      overriddenGuards.map(({ seq, step, missing, reason }) => ({
        seq,
        value: null,
        limit: null,
        words: `${step.replaceAll('-', ' ')}, although ${missing.join('; ')}. Reason: ${reason}`,
      })),
  },
  {
    id: 'late-press',
    title: 'pressed late',
    setting: 'latePressMaxS',
    unit: 's',
    source: LOCAL,
    find: ({ latePresses }, { latePressMaxS: limit }) =>
      latePresses
        .filter(({ agoS }) => agoS > limit)
        .map(({ seq, what, agoS }) => ({
          seq,
          value: agoS,
          limit,
          words: `${what} was ${spanBeside(agoS * 1000, limit * 1000)} before the press that set it`,
        })),
  },
  {
    id: 'stopped-early',
    title: 'stopped early',
    setting: null,
    unit: null,
    source: LOCAL,
    find: ({ stoppedEarly }) => {
      if (stoppedEarly === null) return [];
      const { seq, reason, fromT0Ms } = stoppedEarly;
      const when = fromT0Ms === null ? 'before any drug' : `at ${fromStart(fromT0Ms)}`;
      return [{ seq, value: null, limit: null, words: `stopped early, ${when}: ${reason}` }];
    },
  },
  {
    id: 'stated',
    title: 'deviation stated by a person',
    setting: null,
    unit: null,
    source: LOCAL,
    find: ({ statedDeviations }) =>
      statedDeviations.map(({ seq, words, reason, by }) => ({
        seq,
        value: null,
        limit: null,
        words: `${by} stated: ${words}. Reason: ${reason}`,
      })),
  },
] as const satisfies readonly DeviationRule[];
