import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { FindFilter } from '../../core/ledger/find-filter.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { entriesIn } from '../station/independent-reading.ts';
import { newFolder, newRequestId, type StationUnderTest, startStation } from '../station/station-under-test.ts';
import { entered, NURSE, open, requestOf, TREATMENT, treat, upTo } from '../station/treatment.ts';

type MessageOf<T extends Message['type']> = Extract<Message, { type: T }>;

const find = async (station: StationUnderTest, filter: FindFilter = {}) =>
  (await station.reply({
    type: 'find',
    requestId: newRequestId(),
    filter,
    cursor: null,
    limit: 50,
  })) as MessageOf<'found'>;
const reading = async (station: StationUnderTest, sessionId: string) =>
  (await station.reply({ type: 'reading', requestId: newRequestId(), sessionId })) as MessageOf<'reading'>;

/** A practice station with one whole treatment in it. */
async function stationWithTreatment(data: string): Promise<{ station: StationUnderTest; sessionId: string }> {
  const station = await startStation(data, '--practice', '--stepped');
  const { sessionId } = await open(station);
  for (const step of TREATMENT) {
    await station.advanceTo(step.atS * 1000);
    await treat(station, sessionId, [step]);
  }
  return { station, sessionId };
}

describe('a session under way', () => {
  test('is found in the state it has now, with every entry it has', async () => {
    const station = await startStation(newFolder());
    const { sessionId } = await open(station);
    expect((await find(station, { state: 'planning' })).rows).toMatchObject([{ sessionId, entries: 1 }]);
    await treat(station, sessionId, upTo('prime-line'));
    const { rows, indexed } = await find(station, { state: 'linePrimed' });
    const written = entriesIn(station.database);
    expect(rows).toMatchObject([
      {
        sessionId,
        patientCode: 'K-2041',
        lastSeq: written.at(-1)?.seq,
        entries: written.filter((entry) => entry.sessionId === sessionId).length,
      },
    ]);
    expect(indexed).toStrictEqual({ sessions: 1, readings: 1, of: 1, uptoSeq: written.at(-1)?.seq });
    expect((await find(station, { state: 'planning' })).rows).toStrictEqual([]);
  });

  test('does not say what is ordered while a second person has yet to compute it, nor can it be found by that', async () => {
    const station = await startStation(newFolder());
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('measure'));
    expect((await find(station)).rows).toMatchObject([{ sessionId, regimen: null, eyes: [] }]);
    for (const filter of [{ regimenId: 'label' }, { eye: 'right' }, { eye: 'left' }] as const) {
      expect((await find(station, filter)).total.sessions).toBe(0);
    }
    expect(await reading(station, sessionId)).toMatchObject({
      measures: null,
      deviations: [],
      says: expect.stringMatching(/shown once/),
    });
    await treat(station, sessionId, upTo('second-check').slice(-1));
    expect((await find(station, { regimenId: 'label' })).rows).toMatchObject([{ sessionId, eyes: ['right'] }]);
  });
});

describe('a session that is over', () => {
  test('is read as it is judged, and is in the clinic’s figures', async () => {
    const { station, sessionId } = await stationWithTreatment(newFolder());
    const { measures, deviations, says } = await reading(station, sessionId);
    const entries = entriesIn(station.database).filter((entry) => entry.sessionId === sessionId);
    expect(says).toBeNull();
    expect(measures).toMatchObject({ sessionId, state: 'discharged', entries: entries.length, trouble: null });
    const [row] = (await find(station)).rows;
    expect(row?.deviations.toSorted()).toStrictEqual([...new Set(deviations.map(({ ruleId }) => ruleId))].toSorted());
    const clinic = { type: 'clinic', requestId: newRequestId(), filter: { practice: 'practice' } };
    const answer = (await station.reply(clinic)) as MessageOf<'clinic'>;
    expect(answer).toMatchObject({ type: 'clinic', pointsLeftOut: 0, figures: { sessions: 1 } });
    expect(answer.figures.lightStarts.points).toMatchObject([{ offsetMs: measures?.light?.startOffsetMs }]);
    const none = { type: 'clinic', requestId: newRequestId(), filter: { practice: 'real' } };
    expect(await station.reply(none)).toMatchObject({ figures: { sessions: 0, infusions: null } });
  });

  test('is judged by the limits in the settings file, from the next start on', async () => {
    const data = newFolder();
    const { station, sessionId } = await stationWithTreatment(data);
    const ranMs = (await reading(station, sessionId)).measures?.flush?.ranMs ?? 0;
    expect((await find(station, { deviation: 'flush-long' })).rows).toStrictEqual([]);
    await station.stop();
    const limits = { flushWithinS: Math.max(0, Math.abs(ranMs - 60_000) / 1000 - 0.001) };
    writeFileSync(join(data, 'settings.json'), JSON.stringify({ limits }));
    const later = await startStation(data, '--practice');
    const deviation = ranMs > 60_000 ? 'flush-long' : 'flush-short';
    expect((await find(later, { deviation })).rows).toMatchObject([{ sessionId }]);
    const judged = await reading(later, sessionId);
    expect(judged.deviations.map(({ ruleId }) => ruleId)).toContain(deviation);
  });
});

test('a filter that cannot be meant is answered with what is wrong with it', async () => {
  const station = await startStation(newFolder());
  const ask = (filter: object) => ({ type: 'find', requestId: newRequestId(), filter, cursor: null, limit: 10 });
  const says = (words: RegExp) => ({ type: 'error', says: expect.stringMatching(words) });
  expect(await station.ask(ask({ person: 'mo' }))).toMatchObject(says(/filter\.person: initials are two to four/));
  expect(await station.ask(ask({ state: 'asleep' }))).toMatchObject(says(/filter\.state: /));
  expect(await station.ask(ask({ surname: 'any' }))).toMatchObject(says(/filter: .*surname/));
});

test('of a session that is not there nothing can be said', async () => {
  const station = await startStation(newFolder());
  expect(await reading(station, 'no-such-session')).toMatchObject({
    measures: null,
    says: expect.stringMatching(/no such session/),
  });
});

test('where no index can be made, it is said, and every command is carried out all the same', async () => {
  const data = newFolder();
  mkdirSync(join(data, 'ledger.finding.sqlite3'));
  const station = await startStation(data);
  const { sessionId } = await open(station);
  expect(await find(station)).toMatchObject({
    type: 'error',
    says: expect.stringMatching(/^sessions cannot be looked for: /),
  });
  await treat(station, sessionId, upTo('prepare'));
  const note = requestOf(station, sessionId, { by: NURSE, command: { kind: 'note', words: 'patient is calm' } });
  entered(await station.ask(note));
});
