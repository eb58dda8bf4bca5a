import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MADE_UP_TROUBLES, madeUpById } from '../../core/practice/made-up-troubles.ts';
import { toThrowNow, troublesOf } from '../../core/practice/throwing.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { TROUBLE } from '../../core/procedure/trouble.ts';
import { held, infusing, ONE_EYE, T0_AT_MS } from '../session-steps.ts';
import { anyCourse, live } from './lived.ts';

const STATES = ['planning', 'infusing', 'waitingForLight', 'lightDelivery'];
const IN_THE_INFUSION = MADE_UP_TROUBLES.filter(({ state }) => state === 'infusing').map(({ id }) => id);

describe('the troubles of a session', () => {
  test('are one for each state that has any, and follow from its identity alone', () => {
    fc.assert(
      fc.property(fc.uuid(), (sessionId) => {
        const planned = troublesOf(sessionId);
        expect(planned.map(({ trouble }) => trouble.state)).toEqual(STATES);
        expect(troublesOf(sessionId)).toEqual(planned);
        for (const { trouble, share } of planned) {
          expect(share).toBeGreaterThanOrEqual(trouble.share.from);
          expect(share).toBeLessThanOrEqual(trouble.share.to);
        }
      }),
    );
  });

  test('differ between sessions: none is left out, none comes almost always', () => {
    const ids = fc.sample(fc.uuid(), { numRuns: 600, seed: 4711 });
    const counts = IN_THE_INFUSION.map(
      (id) => ids.filter((sessionId) => troublesOf(sessionId).some(({ trouble }) => trouble.id === id)).length,
    );
    for (const count of counts) expect(count).toBeGreaterThan(100);
  });

  test('name cards that can be met in their state', () => {
    for (const { state, answeredBy } of MADE_UP_TROUBLES) {
      if (answeredBy.by !== 'stopping the pump') continue;
      expect(TROUBLE.find(({ id }) => id === answeredBy.card)?.states).toContain(state);
    }
  });
});

describe('a trouble is thrown', () => {
  test('at most once, only in its state, and never past the point where it could still be met, whatever is done', () => {
    fc.assert(
      fc.property(fc.uuid(), anyCourse, (sessionId, steps) => {
        const { thrown } = live(sessionId, steps);
        const ids = thrown.map(({ trouble }) => trouble);
        expect(new Set(ids).size).toBe(ids.length);
        for (const { trouble, before, atMs } of thrown) {
          const { state } = madeUpById(trouble);
          expect(stateOf(before)).toBe(state);
          const { course } = before;
          if (state === 'planning') expect([before.plan !== null, before.secondCheck]).toEqual([true, null]);
          if (state === 'infusing') expect(course?.infusion.runningSinceAtMs).not.toBeNull();
          if (state === 'waitingForLight') expect(atMs).toBeLessThan(course?.lightDueAtMs ?? 0);
          if (state === 'lightDelivery') {
            expect(course?.exposures.some(({ beams }) => beams.at(-1)?.offAtMs === null)).toBe(true);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  test('in each state of a session that goes as it ought to', () => {
    fc.assert(
      fc.property(fc.uuid(), (sessionId) => {
        const { thrown } = live(sessionId, ONE_EYE);
        expect(thrown.map(({ trouble }) => madeUpById(trouble).state)).toEqual(STATES);
      }),
      { numRuns: 20 },
    );
  });

  test('not while the pump is held, and not before its share of the infusion', () => {
    const early = infusing().context;
    expect(toThrowNow(early, [], T0_AT_MS + 100_000)).toBeNull();
    expect(toThrowNow(early, [], T0_AT_MS + 400_000)?.state).toBe('infusing');
    expect(toThrowNow(held().context, [], T0_AT_MS + 400_000)).toBeNull();
  });
});
