import { expect, test } from 'vitest';
import { STATES, UNDER_WAY } from '../../core/procedure/states.ts';
import { lastSnapshot } from '../../electron/carrier/last-snapshot.ts';

const sessionIn = (state: string) => ({ sessionId: `in-${state}`, state, stateWords: state, patient: null, seq: 7 });

const snapshotOf = (rate: number, states: readonly string[]) => ({
  type: 'snapshot',
  nowMs: 5000,
  wallMs: 1_000_000,
  rate,
  front: 'kept as it came',
  sessions: states.map(sessionIn),
});

test('a screen that opens later gets the snapshot with its clocks moved on by as much', () => {
  let clockMs = 100;
  const last = lastSnapshot(() => clockMs);
  expect(last.asOfNow()).toBeNull();
  last.keep(snapshotOf(1, ['planning']));
  clockMs += 700;
  expect(last.asOfNow()).toEqual({ ...snapshotOf(1, ['planning']), nowMs: 5700, wallMs: 1_000_700 });
});

test('in practice at another speed the clocks are moved on at that speed', () => {
  let clockMs = 0;
  const last = lastSnapshot(() => clockMs);
  last.keep(snapshotOf(10, []));
  clockMs = 300;
  expect(last.asOfNow()).toMatchObject({ nowMs: 8000, wallMs: 1_003_000 });
});

test('only drug and light count as under way; every session that has not ended counts as open', () => {
  const last = lastSnapshot();
  last.keep(snapshotOf(1, STATES));
  expect(last.underWay().map(({ state }) => state)).toEqual(UNDER_WAY);
  expect(last.openSessions().map(({ state }) => state)).toEqual(STATES.filter((state) => state !== 'discharged'));
});

test('what is not a snapshot leaves the last one as it is', () => {
  const last = lastSnapshot(() => 0);
  last.keep(snapshotOf(1, ['infusing']));
  for (const message of [null, 'text', { type: 'error' }, { type: 'snapshot', nowMs: 'soon' }]) last.keep(message);
  expect(last.underWay()).toHaveLength(1);
});
