import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, onTestFinished, test } from 'vitest';
import { brokenAt, entriesIn, kindsIn } from './independent-reading.ts';
import { newFolder, newRequestId, type StationUnderTest, startStation } from './station-under-test.ts';
import {
  BEGINNING,
  entered,
  NURSE,
  open,
  openRequest,
  requestOf,
  sentences,
  TREATMENT,
  treat,
  upTo,
} from './treatment.ts';

const CONSENT = { by: NURSE, command: { kind: 'check', item: 'consent' } } as const;
const NOTE = { by: NURSE, command: { kind: 'note', words: 'patient is calm' } } as const;

async function stationWithSession(...words: string[]): Promise<{ station: StationUnderTest; sessionId: string }> {
  const station = await startStation(newFolder(), ...words);
  const { sessionId } = await open(station);
  return { station, sessionId };
}

test('the tests run stations on the Node that the project brings', () => {
  expect(process.versions.node).toMatch(/^24\./);
});

describe('entered first, shown then', () => {
  test('every snapshot of a whole treatment shows only what is in the file already', async () => {
    const station = await startStation(newFolder(), '--practice', '--stepped');
    const db = new DatabaseSync(station.database, { readOnly: true });
    onTestFinished(() => db.close());
    const row = db.prepare('SELECT session FROM entries WHERE seq = ?');
    const shown: { seq: number; inFile: string }[] = [];
    const notInFile: number[] = [];
    station.onSnapshot((snapshot) => {
      for (const { seq, sessionId } of snapshot.sessions) {
        shown.push({ seq, inFile: sessionId });
        if (row.get(seq)?.session !== sessionId) notInFile.push(seq);
      }
      if (snapshot.written !== null && row.get(snapshot.written.seq) === undefined)
        notInFile.push(snapshot.written.seq);
    });
    const { sessionId } = await open(station);
    for (const step of TREATMENT) {
      await station.advanceTo(step.atS * 1000);
      await treat(station, sessionId, [step]);
    }
    expect(station.view(sessionId).state).toBe('discharged');
    expect(new Set(shown.map(({ seq }) => seq)).size).toBeGreaterThan(TREATMENT.length);
    expect(notInFile).toStrictEqual([]);
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });

  test('what no disk takes is not shown and not held: the same command is entered once the file takes it', async () => {
    const data = newFolder();
    const noFolder = join(data, 'a-file');
    writeFileSync(noFolder, '');
    const { station, sessionId } = await stationWithSession('--emergency', noFolder);
    const other = new DatabaseSync(station.database);
    other.exec('BEGIN IMMEDIATE');
    const request = requestOf(station, sessionId, CONSENT);
    const before = station.view(sessionId);
    expect(await station.ask(request)).toMatchObject({
      type: 'error',
      requestId: request.requestId,
      says: expect.stringMatching(
        /^not written, nothing has changed: another program has locked the ledger: close it; and/,
      ),
    });
    await station.look();
    expect(station.view(sessionId).seq).toBe(before.seq);
    expect(station.view(sessionId).tasks).toStrictEqual(before.tasks);
    other.exec('ROLLBACK');
    other.close();
    const { seq } = entered(await station.ask(request));
    expect(seq).toBe(before.seq + 1);
    expect(kindsIn(station.database, sessionId)).toStrictEqual(['open-session', 'check']);
  });
});

describe('a command given more than once is carried out once', () => {
  test.each([2, 5])('sent %i times', async (times) => {
    const { station, sessionId } = await stationWithSession();
    const request = requestOf(station, sessionId, NOTE);
    const replies = await Promise.all(Array.from({ length: times }, () => station.ask(request)));
    expect(new Set(replies.map((reply) => entered(reply).seq)).size).toBe(1);
    expect(kindsIn(station.database, sessionId)).toStrictEqual(['open-session', 'note']);
  });

  test('sent again after others were entered, with what it had seen then', async () => {
    const { station, sessionId } = await stationWithSession();
    const request = requestOf(station, sessionId, NOTE);
    const first = entered(await station.ask(request));
    await treat(station, sessionId, upTo('order'));
    expect(entered(await station.ask(request)).seq).toBe(first.seq);
    expect(kindsIn(station.database, sessionId).filter((kind) => kind === 'note')).toHaveLength(1);
  });

  test('an opening sent three times opens one session', async () => {
    const station = await startStation(newFolder());
    const request = openRequest(newRequestId());
    const replies = await Promise.all([1, 2, 3].map(() => station.ask(request)));
    expect(new Set(replies.map((reply) => entered(reply).sessionId)).size).toBe(1);
    expect((await station.look()).sessions).toHaveLength(1);
  });

  test('the start of the pump, pressed twice: T0 is that of the first press', async () => {
    const { station, sessionId } = await stationWithSession('--practice', '--stepped');
    await treat(station, sessionId, upTo('start-pump').slice(0, -1));
    await station.advanceTo(500_000);
    const request = requestOf(station, sessionId, { by: NURSE, command: { kind: 'start-pump' } });
    await station.ask(request);
    await station.advanceTo(503_000);
    await station.ask(request);
    expect((await station.look()) && station.view(sessionId).course).toMatchObject({
      t0AtMs: 500_000,
      infusionDueAtMs: 1_100_000,
      lightDueAtMs: 1_400_000,
    });
  });
});

describe('a press by someone who has not seen the last entry', () => {
  test('two screens confirm the same step at once: one is entered, the other refused', async () => {
    const { station, sessionId } = await stationWithSession();
    const requests = [CONSENT, CONSENT].map((given) => requestOf(station, sessionId, given));
    const replies = await Promise.all(requests.map((request) => station.ask(request)));
    expect(replies.map((reply) => reply.type).sort()).toStrictEqual(['entered', 'refused']);
    expect(replies.map((reply) => (reply.type === 'refused' ? sentences(reply) : ''))).toContain(
      'something was entered a moment ago: look, then press again',
    );
    expect(kindsIn(station.database, sessionId)).toStrictEqual(['open-session', 'check']);
  });

  test('two screens start the pump at once: one T0', async () => {
    const { station, sessionId } = await stationWithSession();
    await treat(station, sessionId, upTo('start-pump').slice(0, -1));
    const start = { by: NURSE, command: { kind: 'start-pump' } } as const;
    const requests = [1, 2, 3, 4].map(() => requestOf(station, sessionId, start));
    const replies = await Promise.all(requests.map((request) => station.ask(request)));
    expect(replies.map((reply) => reply.type).sort()).toStrictEqual(['entered', 'refused', 'refused', 'refused']);
    expect(kindsIn(station.database, sessionId).filter((kind) => kind === 'start-pump')).toHaveLength(1);
  });

  test('a press with what was seen an entry ago is refused, whatever it is, and taken after a look', async () => {
    const { station, sessionId } = await stationWithSession();
    const stale = requestOf(station, sessionId, CONSENT);
    await treat(station, sessionId, [{ atS: 0, ...NOTE }]);
    expect(sentences(await station.ask(stale))).toMatch(/look, then press again/);
    const looked = { ...stale, seq: station.view(sessionId).seq };
    expect(entered(await station.ask(looked)).seq).toBe(looked.seq + 1);
  });

  test('an instant that came due meanwhile makes no press stale: nobody was overtaken by it', async () => {
    const { station, sessionId } = await stationWithSession('--practice', '--stepped');
    await treat(station, sessionId, upTo('start-pump'));
    const press = requestOf(station, sessionId, { by: NURSE, command: { kind: 'begin-flush' } });
    await station.advanceTo(600_000);
    expect(station.view(sessionId).seq).toBe(press.seq + 1);
    expect(entered(await station.ask(press)).seq).toBe(press.seq + 2);
  });

  test('another session does not make a press stale', async () => {
    const { station, sessionId } = await stationWithSession();
    const press = requestOf(station, sessionId, CONSENT);
    await open(station);
    entered(await station.ask(press));
  });
});

test('a command for a session that is not in the ledger is refused with a sentence', async () => {
  const { station, sessionId } = await stationWithSession();
  const request = { ...requestOf(station, sessionId, CONSENT), sessionId: 'no-such-session' };
  expect(sentences(await station.ask(request))).toBe('there is no such session in this ledger');
  expect(kindsIn(station.database)).toStrictEqual([...BEGINNING, 'open-session']);
});
