import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { following, ledgerStore } from '../../electron/station/ledger.ts';
import { openDatabase } from '../../electron/station/open-database.ts';
import { brokenAt, entriesIn, kindsIn } from '../station/independent-reading.ts';
import { newFolder, type StationUnderTest, startStation } from '../station/station-under-test.ts';
import { type Given, NURSE, open, treat, upTo } from '../station/treatment.ts';

/** Wall time and continuous time are read one after the other, and a busy machine may do something else in between. */
const APART_MS = 250;

const HOLD: Given = { atS: 0, by: NURSE, command: { kind: 'hold', reason: 'pain' } };

/** The same entries, as a boot before this one would have written them: another clock, wall time earlier by `agoMs`. */
function asOfAnotherBoot(file: string, folder: string, agoMs: number): void {
  const store = ledgerStore(openDatabase(join(folder, 'ledger.sqlite3')));
  for (const { sessionId, kind, payload, wallMs, offsetMin, continuousMs, author, commandId } of entriesIn(file)) {
    const at = { continuousMs: continuousMs + 86_400_000, boot: 'the boot before', wallMs: wallMs - agoMs, offsetMin };
    store.insert(following({ sessionId, kind, payload, at, by: author as Given['by'], commandId }, store.last()));
  }
  store.close();
}

/** A session that began to infuse under another boot, found by a station that has just been started. */
async function foundAfterReboot(steps: readonly Given[], agoMs: number) {
  const before = await startStation(newFolder());
  const { sessionId } = await open(before);
  await treat(before, sessionId, steps);
  await before.stop();
  const folder = newFolder();
  asOfAnotherBoot(before.database, folder, agoMs);
  return { station: await startStation(folder), folder, sessionId };
}

/** What is left of both timers, on the continuous clock and by wall time, at one and the same moment. */
async function leftOf(station: StationUnderTest, sessionId: string) {
  const { nowMs, wallMs } = await station.look();
  const course = station.view(sessionId).course;
  if (course === null) throw new Error('no pump has started');
  return {
    infusion: { countedMs: (course.infusionDueAtMs ?? 0) - nowMs, byWallMs: course.t0WallMs + 600_000 - wallMs },
    light: { countedMs: course.lightDueAtMs - nowMs, byWallMs: course.t0WallMs + 900_000 - wallMs },
  };
}

describe('the machine was started anew in the middle of an infusion', () => {
  test('an entry says that instants were re-based, and the session is marked from then on', async () => {
    const { station, sessionId } = await foundAfterReboot(upTo('start-pump'), 120_000);
    const rebase = entriesIn(station.database).filter(({ kind }) => kind === 'rebase');
    expect(rebase).toMatchObject([
      {
        sessionId,
        author: { initials: 'station', role: 'station' },
        boot: station.boot,
        payload: { fromBoot: 'the boot before', toBoot: station.boot, shiftMs: expect.any(Number) },
      },
    ]);
    expect(station.view(sessionId)).toMatchObject({ rebased: true, state: 'infusing' });
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });

  test('what is left of both timers is what wall time says', async () => {
    const { station, sessionId } = await foundAfterReboot(upTo('start-pump'), 120_000);
    const { infusion, light } = await leftOf(station, sessionId);
    expect(Math.abs(infusion.countedMs - infusion.byWallMs)).toBeLessThan(APART_MS);
    expect(Math.abs(light.countedMs - light.byWallMs)).toBeLessThan(APART_MS);
    expect(light.countedMs - infusion.countedMs).toBeCloseTo(300_000, 3);
    expect(infusion.byWallMs).toBeLessThanOrEqual(480_000);
  });

  test('the machine was off past both instants: both are entered at once, each once, at the instant they were due', async () => {
    const { station, sessionId } = await foundAfterReboot(upTo('start-pump'), 1_200_000);
    await station.look();
    const course = station.view(sessionId).course;
    const dues = entriesIn(station.database).filter(({ kind }) => kind.endsWith('-due'));
    expect(dues.map(({ kind, payload }) => [kind, payload.dueAtMs])).toStrictEqual([
      ['infusion-due', course?.infusionDueAtMs],
      ['light-due', course?.lightDueAtMs],
    ]);
    expect(course?.windowOpen).toBe(true);
  });

  test('a held infusion stays held with what was left of it', async () => {
    const { station, sessionId } = await foundAfterReboot([...upTo('start-pump'), HOLD], 120_000);
    const timer = station.view(sessionId).timers.find(({ name }) => name === 'infusion');
    const course = station.view(sessionId).course;
    const ranMs = (course?.holds[0]?.heldAtMs ?? 0) - (course?.t0AtMs ?? 0);
    expect(timer).toMatchObject({ phase: 'held', dueAtMs: null });
    expect(timer?.leftMs).toBeCloseTo(600_000 - ranMs, 3);
  });

  test('a second start of the same boot re-bases nothing more', async () => {
    const { station, folder, sessionId } = await foundAfterReboot(upTo('start-pump'), 120_000);
    const { infusionDueAtMs } = station.view(sessionId).course ?? {};
    await station.kill();
    const again = await startStation(folder);
    expect(kindsIn(again.database).filter((kind) => kind === 'rebase')).toHaveLength(1);
    expect(again.view(sessionId).course?.infusionDueAtMs).toBe(infusionDueAtMs);
  });

  test('every open session is re-based, each by the time since its own last entry', async () => {
    const before = await startStation(newFolder());
    const [first, second] = [await open(before), await open(before)];
    await treat(before, first.sessionId, upTo('start-pump'));
    await treat(before, second.sessionId, upTo('prepare'));
    await before.stop();
    const folder = newFolder();
    asOfAnotherBoot(before.database, folder, 60_000);
    const station = await startStation(folder);
    expect(kindsIn(station.database, first.sessionId).at(-1)).toBe('rebase');
    expect(kindsIn(station.database, second.sessionId).at(-1)).toBe('rebase');
    const { nowMs, wallMs } = await station.look();
    const { drugUseByWallMs, timers } = station.view(second.sessionId);
    const drug = timers.find(({ name }) => name === 'drug in use');
    expect(Math.abs((drug?.dueAtMs ?? 0) - nowMs - ((drugUseByWallMs ?? 0) - wallMs))).toBeLessThan(APART_MS);
  });
});

test('practice at another speed is another boot: its instants are re-based too', async () => {
  const data = newFolder();
  const slow = await startStation(data, '--practice', '--speed', '2');
  const { sessionId } = await open(slow);
  await treat(slow, sessionId, upTo('start-pump'));
  await slow.kill();
  const fast = await startStation(data, '--practice', '--speed', '3');
  expect(fast.boot).not.toBe(slow.boot);
  expect(fast.view(sessionId).rebased).toBe(true);
  const { infusion, light } = await leftOf(fast, sessionId);
  expect(Math.abs(infusion.countedMs - infusion.byWallMs)).toBeLessThan(APART_MS);
  expect(Math.abs(light.countedMs - light.byWallMs)).toBeLessThan(APART_MS);
});
