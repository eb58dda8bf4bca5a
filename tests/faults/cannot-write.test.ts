import { appendFileSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { brokenAt, entriesIn, kindsIn } from '../station/independent-reading.ts';
import { emergencyIn, newFolder, startFaultable } from '../station/station-under-test.ts';
import { entered, NURSE, open, requestOf, treat, upTo } from '../station/treatment.ts';
import { keptIn, LOCKED, noteUntilWaiting, REFUSALS } from './refusing-disk.ts';

const NOTE = { by: NURSE, command: { kind: 'note', words: 'patient is calm' } } as const;
const doubled = (all: readonly number[]): number[] => all.filter((one, index) => all.indexOf(one) !== index);
const seqsIn = (file: string): number[] => entriesIn(file).map(({ seq }) => seq);

async function stationWithSession(data = newFolder()) {
  const station = await startFaultable(data);
  const { sessionId } = await open(station);
  return { data, station, sessionId };
}

describe.each(REFUSALS)('a ledger $name', ({ begin, why }) => {
  test('steps go on, every screen is told why and where, and all is in the ledger once it can be', async () => {
    const { data, station, sessionId } = await stationWithSession();
    const mend = await begin(station);
    await noteUntilWaiting(station, sessionId);
    const steps = await treat(station, sessionId, upTo('identify'));
    const request = requestOf(station, sessionId, NOTE);
    const note = entered(await station.ask(request));
    await station.look();

    const kept = keptIn(data);
    expect(station.latest().notYetSafe).toStrictEqual({
      entries: kept.entries.length,
      sinceWallMs: kept.entries[0]?.wallMs,
      why: expect.stringMatching(why),
      keptAt: kept.file,
    });
    expect(kept.entries.map(({ seq }) => seq).slice(-2)).toStrictEqual([steps.at(-1)?.seq, note.seq]);
    expect(seqsIn(station.database)).not.toContain(note.seq);
    expect(brokenAt([...entriesIn(station.database), ...kept.entries])).toStrictEqual([]);
    expect(station.view(sessionId).patient?.patientCode).toBe('K-2041');
    expect(entered(await station.ask(request)).seq).toBe(note.seq);

    await mend();
    await station.when(({ notYetSafe }) => notYetSafe === null);
    const landed = entriesIn(station.database);
    expect(landed).toEqual(expect.arrayContaining(kept.entries));
    expect(brokenAt(landed)).toStrictEqual([]);
    await station.when(() => kindsIn(station.database).includes('emergency-landed'));
    expect(entriesIn(station.database).at(-1)).toMatchObject({ payload: { entries: kept.entries.length } });
    expect(keptIn(data).file).toBeNull();
    expect(entered(await station.ask(request)).seq).toBe(note.seq);
  });

  test('a station that is killed meanwhile has lost nothing: the next one lands all, each once, in order', async () => {
    const { data, station, sessionId } = await stationWithSession();
    const mend = await begin(station);
    await noteUntilWaiting(station, sessionId);
    const request = requestOf(station, sessionId, NOTE);
    const note = entered(await station.ask(request));
    const kept = keptIn(data).entries;
    await station.kill();
    await mend().catch(() => {});
    const next = await startFaultable(data, station.machine());
    expect(next.latest().notYetSafe).toBeNull();
    expect(entriesIn(next.database)).toEqual(expect.arrayContaining(kept));
    expect(entriesIn(next.database).filter(({ kind }) => kind === 'emergency-landed')).toMatchObject([
      { payload: { entries: kept.length } },
    ]);
    expect(brokenAt(entriesIn(next.database))).toStrictEqual([]);
    expect(entered(await next.ask(request)).seq).toBe(note.seq);
    expect(doubled(seqsIn(next.database))).toStrictEqual([]);
  });
});

describe('a station that is started while the ledger is still locked', () => {
  test('goes on where the one before it was, and lands everything when it can', async () => {
    const { data, station, sessionId } = await stationWithSession();
    await treat(station, sessionId, upTo('start-pump').slice(0, -1));
    const mend = await LOCKED.begin(station);
    await treat(station, sessionId, upTo('start-pump').slice(-1));
    const { course } = station.view(sessionId);
    await station.kill();
    const next = await startFaultable(data, station.machine());
    expect(next.view(sessionId).course).toStrictEqual(course);
    expect(next.latest().notYetSafe).toMatchObject({
      why: expect.stringMatching(LOCKED.why),
      keptAt: keptIn(data).file,
    });
    await treat(next, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'hold', reason: 'pain' } }]);
    await mend();
    await next.when(({ notYetSafe }) => notYetSafe === null);
    expect(kindsIn(next.database, sessionId).slice(-2)).toStrictEqual(['start-pump', 'hold']);
    expect(brokenAt(entriesIn(next.database))).toStrictEqual([]);
  });

  test('with another emergency file that does not follow this ledger: it is set aside untouched, and that is said', async () => {
    const { data, station, sessionId } = await stationWithSession();
    const mend = await LOCKED.begin(station);
    await noteUntilWaiting(station, sessionId);
    const { file, entries } = keptIn(data);
    await station.kill();
    await mend();
    writeFileSync(file ?? '', `${JSON.stringify({ ...entries[0], wallMs: 1 })}\n`);
    const next = await startFaultable(data, station.machine());
    expect(next.latest().trouble).toMatchObject([expect.stringMatching(/do not follow this ledger; .* set aside in/)]);
    expect(readdirSync(emergencyIn(data))).toHaveLength(1);
    expect(keptIn(data).file).toBeNull();
    expect(brokenAt(entriesIn(next.database))).toStrictEqual([]);
    expect(kindsIn(next.database)).toContain('chain-broken');
  });
});

test('an entry of which half a line was kept when the power failed was never acknowledged, and spoils none after it', async () => {
  const { data, station, sessionId } = await stationWithSession();
  const mend = await LOCKED.begin(station);
  await noteUntilWaiting(station, sessionId);
  const { file, entries } = keptIn(data);
  await station.kill();
  appendFileSync(file ?? '', '{"seq":99,"kind":"no');
  const next = await startFaultable(data, station.machine());
  const note = entered(await next.ask(requestOf(next, sessionId, NOTE)));
  await mend();
  await next.when(({ notYetSafe }) => notYetSafe === null);
  expect(entriesIn(next.database)).toEqual(expect.arrayContaining(entries));
  expect(seqsIn(next.database)).toContain(note.seq);
  expect(brokenAt(entriesIn(next.database))).toStrictEqual([]);
});

describe('neither the ledger nor the emergency folder can be written', () => {
  /** A station that infuses, and a file where the emergency folder ought to be. */
  async function nowhereToWrite() {
    const { data, station, sessionId } = await stationWithSession();
    await treat(station, sessionId, upTo('start-pump'));
    const mend = await LOCKED.begin(station);
    writeFileSync(emergencyIn(data), '');
    return { data, station, sessionId, mend };
  }

  test("a person's step is refused with words, changes nothing, and is taken when there is room again", async () => {
    const { station, sessionId, mend } = await nowhereToWrite();
    const request = requestOf(station, sessionId, { by: NURSE, command: { kind: 'hold', reason: 'pain' } });
    const before = station.view(sessionId).course;
    expect(await station.ask(request)).toMatchObject({
      type: 'error',
      says: expect.stringMatching(/^not written, nothing has changed: another program has locked .* either/),
    });
    await station.look();
    expect(station.view(sessionId).course).toStrictEqual(before);
    await mend();
    entered(await station.ask(request));
    expect(kindsIn(station.database, sessionId).at(-1)).toBe('hold');
  });

  test('due instants come all the same, are said to be in memory alone, and land', async () => {
    const { station, sessionId, mend } = await nowhereToWrite();
    const { infusionDueAtMs } = station.view(sessionId).course ?? {};
    const { seq } = station.view(sessionId);
    await station.move({ awakeMs: 601_000 });
    await station.when(() => station.view(sessionId).seq > seq);
    expect(station.latest().notYetSafe).toMatchObject({ entries: 1, keptAt: null });
    await mend();
    await station.when(({ notYetSafe }) => notYetSafe === null);
    expect(entriesIn(station.database).find(({ kind }) => kind === 'infusion-due')?.payload).toStrictEqual({
      dueAtMs: infusionDueAtMs,
    });
  });

  test('once the folder can be written, what memory alone had is kept first: a kill then loses neither', async () => {
    const { data, station, sessionId, mend } = await nowhereToWrite();
    const { seq } = station.view(sessionId);
    await station.move({ awakeMs: 601_000 });
    await station.when(() => station.view(sessionId).seq > seq);
    rmSync(emergencyIn(data));
    mkdirSync(emergencyIn(data));
    await treat(station, sessionId, [{ atS: 0, ...NOTE }]);
    expect(station.latest().notYetSafe).toMatchObject({ keptAt: keptIn(data).file });
    await station.kill();
    await mend();
    const next = await startFaultable(data, station.machine());
    expect(kindsIn(next.database, sessionId).slice(-2)).toStrictEqual(['infusion-due', 'note']);
    expect(brokenAt(entriesIn(next.database))).toStrictEqual([]);
  });
});

test('an instant that comes due while the file takes no entry is entered as of its own time once it does', async () => {
  const { data, station, sessionId } = await stationWithSession();
  await treat(station, sessionId, upTo('start-pump'));
  const mend = await LOCKED.begin(station);
  const dueAtMs = station.view(sessionId).course?.infusionDueAtMs ?? 0;
  await station.move({ awakeMs: 601_000 });
  await station.when(() => keptIn(data).entries.some(({ kind }) => kind === 'infusion-due'));
  expect(kindsIn(station.database)).not.toContain('infusion-due');
  await treat(station, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'begin-flush' } }]);
  await mend();
  await station.when(({ notYetSafe }) => notYetSafe === null);
  const rung = entriesIn(station.database).filter(({ kind }) => kind === 'infusion-due');
  expect(rung.map(({ payload }) => payload.dueAtMs)).toStrictEqual([dueAtMs]);
  expect(kindsIn(station.database, sessionId).slice(-2)).toStrictEqual(['infusion-due', 'begin-flush']);
});

test('a report from the carrier waits like any other entry', async () => {
  const { station } = await stationWithSession();
  const mend = await LOCKED.begin(station);
  station.frame({ report: { kind: 'display-lost', words: 'second monitor' } });
  await station.when(({ notYetSafe }) => notYetSafe !== null);
  expect(station.troubles).toStrictEqual([]);
  await mend();
  await station.when(() => kindsIn(station.database).includes('display-lost'));
});

test('two screens press at once on a locked ledger: one is entered, the other refused', async () => {
  const { data, station, sessionId } = await stationWithSession();
  const mend = await LOCKED.begin(station);
  const requests = [NOTE, NOTE].map((given) => requestOf(station, sessionId, given));
  const replies = await Promise.all(requests.map((request) => station.ask(request)));
  expect(replies.map(({ type }) => type).sort()).toStrictEqual(['entered', 'refused']);
  expect(keptIn(data).entries).toHaveLength(1);
  await mend();
});
