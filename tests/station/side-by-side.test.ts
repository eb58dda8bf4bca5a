import { describe, expect, test } from 'vitest';
import type { SessionView } from '../../core/protocol/view.ts';
import { brokenAt, entriesIn, kindsIn } from './independent-reading.ts';
import { newFolder, startStation } from './station-under-test.ts';
import { BEGINNING, NURSE, open, TREATMENT, treat, upTo } from './treatment.ts';

const atS = 0;
const HOLD = { atS, by: NURSE, command: { kind: 'hold', reason: 'pain' } } as const;
const RESUME = { atS, by: NURSE, command: { kind: 'resume' } } as const;

const timersOf = (view: SessionView) =>
  view.timers
    .filter((timer) => timer.name === 'infusion' || timer.name === 'light window')
    .map(({ name, phase, dueAtMs, leftMs }) => ({ name, phase, dueAtMs, leftMs }));

describe('several sessions open at one station', () => {
  test('each is in a state of its own, and a hold of one moves no timer of another', async () => {
    const station = await startStation(newFolder(), '--practice', '--stepped');
    const [first, second, third] = [await open(station), await open(station), await open(station)];
    await treat(station, first.sessionId, upTo('start-pump'));
    await treat(station, second.sessionId, upTo('start-pump').slice(0, -1));
    await treat(station, third.sessionId, upTo('order'));
    await station.advanceTo(100_000);
    await treat(station, second.sessionId, upTo('start-pump').slice(-1));
    await station.advanceTo(150_000);
    await treat(station, second.sessionId, [HOLD]);

    const states = station.latest().sessions.map(({ sessionId, state }) => [sessionId, state]);
    expect(states).toStrictEqual([
      [first.sessionId, 'infusing'],
      [second.sessionId, 'infusing'],
      [third.sessionId, 'planning'],
    ]);
    expect(timersOf(station.view(first.sessionId))).toStrictEqual([
      { name: 'infusion', phase: 'running', dueAtMs: 600_000, leftMs: null },
      { name: 'light window', phase: 'running', dueAtMs: 900_000, leftMs: null },
    ]);
    expect(timersOf(station.view(second.sessionId))).toStrictEqual([
      { name: 'infusion', phase: 'held', dueAtMs: null, leftMs: 550_000 },
      { name: 'light window', phase: 'running', dueAtMs: 1_000_000, leftMs: null },
    ]);
    expect(station.view(third.sessionId).timers).toStrictEqual([]);

    await station.advanceTo(200_000);
    await treat(station, second.sessionId, [RESUME]);
    expect(station.view(second.sessionId).course?.infusionDueAtMs).toBe(750_000);
    await station.advanceTo(1_000_000);
    const dues = entriesIn(station.database).filter(({ kind }) => kind.endsWith('-due'));
    expect(dues.map(({ kind, sessionId, continuousMs }) => [kind, sessionId, continuousMs])).toStrictEqual([
      ['infusion-due', first.sessionId, 600_000],
      ['infusion-due', second.sessionId, 750_000],
      ['light-due', first.sessionId, 900_000],
      ['light-due', second.sessionId, 1_000_000],
    ]);
  });

  test('what is entered in one is entered in no other, and all are links of one chain', async () => {
    const station = await startStation(newFolder(), '--practice', '--stepped');
    const [first, second] = [await open(station), await open(station)];
    for (const step of upTo('start-pump')) {
      await treat(station, first.sessionId, [step]);
      await treat(station, second.sessionId, [step]);
    }
    const kinds = ['open-session', ...upTo('start-pump').map(({ command }) => command.kind)];
    expect(kindsIn(station.database, first.sessionId)).toStrictEqual(kinds);
    expect(kindsIn(station.database, second.sessionId)).toStrictEqual(kinds);
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });

  test('one is in front: the last opened, or whichever is brought there, and nothing is entered for it', async () => {
    const station = await startStation(newFolder());
    const [first, second] = [await open(station), await open(station)];
    expect((await station.look()).front).toBe(second.sessionId);
    expect(await station.answers({ type: 'front', sessionId: first.sessionId })).toStrictEqual([]);
    expect((await station.look()).front).toBe(first.sessionId);
    await station.answers({ type: 'front', sessionId: 'no-such-session' });
    expect((await station.look()).front).toBe(first.sessionId);
    expect(kindsIn(station.database)).toStrictEqual([...BEGINNING, 'open-session', 'open-session']);
  });

  test('a discharged one is shown while it is in front, and left out when another is', async () => {
    const station = await startStation(newFolder(), '--practice', '--stepped');
    const [over, running] = [await open(station), await open(station)];
    for (const step of TREATMENT) {
      await station.advanceTo(step.atS * 1000);
      await treat(station, over.sessionId, [step]);
      if (step.command.kind === 'check') await station.answers({ type: 'front', sessionId: over.sessionId });
    }
    expect((await station.look()).sessions.map((view) => view.state)).toStrictEqual(['discharged', 'planning']);
    await station.answers({ type: 'front', sessionId: running.sessionId });
    expect((await station.look()).sessions.map((view) => view.state)).toStrictEqual(['planning']);
  });
});
