import { describe, expect, test } from 'vitest';
import type { MadeUpId } from '../../core/practice/made-up-troubles.ts';
import { troublesOf } from '../../core/practice/throwing.ts';
import { entriesIn } from '../station/independent-reading.ts';
import { newFolder, type StationUnderTest, startStation } from '../station/station-under-test.ts';
import { open } from '../station/treatment.ts';
import { AS_TAUGHT, follow, guideIn, living, type Meets } from './guided.ts';

const GUIDED = ['--practice', '--stepped', '--guided'];

describe('a guided station', () => {
  test.each(['swelling', 'back-pain', 'pump-alarm'] as const)(
    'leads through a whole session with %s by its own words alone, and finds that all went well',
    async (trouble) => {
      const station = await startStation(newFolder(), ...GUIDED);
      const sessionId = await openWith(station, trouble);
      const guide = await follow(station, sessionId, AS_TAUGHT);
      expect(guide.thrown.map(({ met }) => met)).toEqual([true, true, true, true]);
      expect(guide.review?.filter(({ well }) => !well)).toEqual([]);
      const words = guide.review?.map((line) => line.words) ?? [];
      expect(words).toContain('the second computation was by other hands');
      expect(words).toContain('the second computation found the wrong weight, and agreed once it was put right');
      expect(words[0]).toMatch(
        /^the second person weighs the patient: the scale shows 6\d\.\d kg: no drug was made up/,
      );
      expect(words).toContain('the light was given as ordered');
      expect(words.some((sentence) => sentence.startsWith('light began'))).toBe(true);
    },
  );

  test('tells who ignores all trouble so, and what to do next time', async () => {
    const station = await startStation(newFolder(), ...GUIDED);
    const { sessionId } = await open(station);
    const guide = await follow(station, sessionId, BEGINS_EARLY);
    expect(guide.thrown.map(({ met, tookS }) => [met, tookS])).toEqual([
      [false, null],
      [false, null],
      [false, null],
      [false, null],
    ]);
    const again = guide.review?.filter(({ well }) => !well).map(({ words }) => words) ?? [];
    expect(again[0]).toMatch(/kg: the drug was made up for another weight\. Next time: type the weight anew/);
    expect(again[1]).toMatch(/not answered\. Next time: .*pump/);
    expect(again[2]).toContain('light was begun before its window');
    expect(again[3]).toContain('not answered. Next time: beam off at once');
    expect(again.filter((words) => /^light began .* before its window/.test(words))).toHaveLength(1);
    expect(again.filter((words) => words.startsWith('beam on, although'))).toHaveLength(1);
  });

  test('enters what it throws about itself, and never into the session', async () => {
    const station = await startStation(newFolder(), ...GUIDED);
    const { sessionId } = await open(station);
    const { thrown } = await follow(station, sessionId, AS_TAUGHT);
    const entries = entriesIn(station.database).filter(({ kind }) => kind === 'practice-trouble');
    expect(entries.map((entry) => [entry.sessionId, entry.author.role, entry.payload.sessionId])).toEqual(
      thrown.map(() => [null, 'station', sessionId]),
    );
    expect(entries.map(({ payload }) => payload.trouble)).toEqual(thrown.map(({ trouble }) => trouble));
  });

  test('tells after a restart the same weight that the scale had shown, while no drug is made up yet', async () => {
    const data = newFolder();
    const words = ['--practice', '--stepped', '--guided'];
    const first = await startStation(data, ...words);
    const { sessionId } = await open(first);
    const before = await follow(first, sessionId, AS_TAUGHT, (_view, { thrown }) => thrown.length === 1);
    await first.kill();
    const next = await startStation(data, ...words);
    await next.look();
    expect(guideIn(next).thrown).toEqual(before.thrown);
    const { thrown } = await follow(next, sessionId, AS_TAUGHT, ({ state }) => state === 'prepared');
    expect(thrown.map(({ words: told, met }) => [told, met])).toEqual([[before.thrown[0]?.words, true]]);
  });

  test('knows after a restart what it had thrown, and does not throw it again', async () => {
    const data = newFolder();
    const words = ['--practice', '--speed', '60', '--guided'];
    const first = await startStation(data, ...words);
    const { sessionId } = await open(first);
    const before = await follow(first, sessionId, AS_TAUGHT, (_view, { thrown }) => thrown.length === 2, living);
    await first.kill();
    const next = await startStation(data, ...words);
    expect(guideIn(next).thrown.map(({ trouble }) => trouble)).toEqual(before.thrown.map(({ trouble }) => trouble));
    const after = await follow(next, sessionId, AS_TAUGHT, ({ state }) => state === 'flushing', living);
    expect(after.thrown.map(({ met }) => met)).toEqual([true, true]);
  });
});

test('only practice is guided', async () => {
  await expect(startStation(newFolder(), '--guided')).rejects.toMatchObject({
    message: expect.stringContaining('add --practice to --guided'),
  });
});

test('practice that is not guided has nothing thrown in and nothing told', async () => {
  const station = await startStation(newFolder(), '--practice', '--stepped');
  await open(station);
  expect((await station.look()).guide).toBeNull();
});

/** A session's troubles follow from its identity, which the station chooses. */
async function openWith(station: StationUnderTest, trouble: MadeUpId): Promise<string> {
  for (;;) {
    const { sessionId } = await open(station);
    if (troublesOf(sessionId).some((planned) => planned.trouble.id === trouble)) return sessionId;
  }
}

const BEGINS_EARLY: Meets = (trouble) =>
  trouble === 'early-operator'
    ? { kind: 'beam-on', eye: 'right', override: { reason: 'the operator is ready' } }
    : null;
