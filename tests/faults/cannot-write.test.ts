import { DatabaseSync } from 'node:sqlite';
import { expect, onTestFinished, test } from 'vitest';
import { brokenAt, entriesIn, kindsIn } from '../station/independent-reading.ts';
import { newFolder, startStation } from '../station/station-under-test.ts';
import { entered, NURSE, open, requestOf, treat, upTo } from '../station/treatment.ts';

/** Keeps a file from being written by anyone else, as a stuck disk or another program would. */
function holdWriting(file: string): { letGo(): void } {
  const db = new DatabaseSync(file);
  onTestFinished(() => db.close());
  db.exec('PRAGMA busy_timeout = 10000; BEGIN IMMEDIATE');
  return { letGo: () => db.exec('ROLLBACK') };
}

test('an instant that comes due while the file takes no entry is told, kept, and entered once it does', async () => {
  const station = await startStation(newFolder(), '--practice', '--speed', '200');
  const { sessionId } = await open(station);
  await treat(station, sessionId, upTo('start-pump'));
  const hold = holdWriting(station.database);
  const dueAtMs = station.view(sessionId).course?.infusionDueAtMs ?? 0;
  await station.when(({ nowMs }) => nowMs > dueAtMs && station.troubles.length > 0);
  expect(station.troubles[0]).toMatch(/not written yet/);
  expect(kindsIn(station.database)).not.toContain('infusion-due');
  hold.letGo();
  await station.when(() => kindsIn(station.database).includes('infusion-due'));
  const rung = entriesIn(station.database).filter(({ kind }) => kind === 'infusion-due');
  expect(rung.map(({ payload }) => payload.dueAtMs)).toStrictEqual([dueAtMs]);
  expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  await treat(station, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'begin-flush' } }]);
});

test('a report that cannot be entered does not end the station', async () => {
  const station = await startStation(newFolder());
  const { sessionId } = await open(station);
  const hold = holdWriting(station.database);
  station.frame({ report: { kind: 'display-lost', words: 'second monitor' } });
  await station.look();
  expect(station.troubles).toMatchObject([expect.stringMatching(/not written yet/)]);
  hold.letGo();
  const note = requestOf(station, sessionId, { by: NURSE, command: { kind: 'note', words: 'monitor went dark' } });
  entered(await station.ask(note));
});
