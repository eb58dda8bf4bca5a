import { describe, expect, test } from 'vitest';
import type { FindCursor } from '../../core/ledger/find-filter.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { entriesIn, kindsIn } from './independent-reading.ts';
import { newFolder, newRequestId, type StationUnderTest, startStation } from './station-under-test.ts';
import { entered, NURSE, open, requestOf, TREATMENT, treat, upTo } from './treatment.ts';

type Found = Extract<Message, { type: 'found' }>;
type Entries = Extract<Message, { type: 'entries' }>;

const sessions = async (station: StationUnderTest, cursor: FindCursor | null, limit: number) =>
  (await station.reply({ type: 'find', requestId: newRequestId(), filter: {}, cursor, limit })) as Found;
const entries = async (station: StationUnderTest, sessionId: string, after: number, limit: number) =>
  (await station.ask({ type: 'entries', requestId: newRequestId(), sessionId, after, limit })) as Entries;

async function dischargedIn(data: string): Promise<string> {
  const station = await startStation(data, '--practice', '--stepped');
  const { sessionId } = await open(station);
  for (const step of TREATMENT) {
    await station.advanceTo(step.atS * 1000);
    await treat(station, sessionId, [step]);
  }
  await station.stop();
  return sessionId;
}

describe('an auditor asks for sessions', () => {
  test('newest first, page by page, until there are no more', async () => {
    const station = await startStation(newFolder());
    const opened: string[] = [];
    for (let count = 0; count < 5; count += 1) opened.unshift((await open(station)).sessionId);
    const first = await sessions(station, null, 2);
    const second = await sessions(station, first.next, 2);
    const third = await sessions(station, second.next, 2);
    const pages = [first, second, third];
    expect(pages.map((page) => page.more)).toStrictEqual([true, true, false]);
    expect(pages.flatMap((page) => page.rows.map((row) => row.sessionId))).toStrictEqual(opened);
  });

  test('a row says whose it is, where it stands and which entries it has', async () => {
    const station = await startStation(newFolder());
    const { sessionId, seq } = await open(station);
    await treat(station, sessionId, upTo('prepare'));
    const file = entriesIn(station.database);
    expect((await sessions(station, null, 10)).rows).toStrictEqual([
      {
        sessionId,
        firstSeq: seq,
        lastSeq: file.at(-1)?.seq,
        entries: file.filter((entry) => entry.sessionId === sessionId).length,
        openedWallMs: file.find((entry) => entry.seq === seq)?.wallMs,
        offsetMin: file[0]?.offsetMin,
        patientCode: 'K-2041',
        state: 'prepared',
        practice: false,
        regimen: { id: 'label', name: 'Label: full dose, full fluence' },
        eyes: ['right'],
        lots: [],
        people: [
          { initials: 'MO', role: 'nurse' },
          { initials: 'TK', role: 'nurse' },
        ],
        deviations: [],
        lightStartOffsetMs: null,
        trouble: null,
      },
    ]);
  });

  test('one that was discharged before the station was started is in the list, and is taken up by nobody', async () => {
    const data = newFolder();
    const sessionId = await dischargedIn(data);
    const station = await startStation(data, '--practice');
    expect(station.takenUp).toBe(0);
    expect(station.latest().sessions).toStrictEqual([]);
    expect((await sessions(station, null, 10)).rows).toMatchObject([
      { sessionId, state: 'discharged', practice: true },
    ]);
  });
});

describe('an auditor asks for entries', () => {
  test('as they are in the file, each with a sentence, page by page', async () => {
    const data = newFolder();
    const sessionId = await dischargedIn(data);
    const station = await startStation(data, '--practice');
    const rows = [];
    let page = await entries(station, sessionId, 0, 7);
    rows.push(...page.rows);
    while (page.more) {
      page = await entries(station, sessionId, rows.at(-1)?.seq ?? 0, 7);
      rows.push(...page.rows);
    }
    const file = entriesIn(station.database).filter((entry) => entry.sessionId === sessionId);
    const withoutWords = rows.map(({ words: _words, by, ...row }) => ({ ...row, author: by }));
    const fileWithoutLinks = file.map(({ commandId: _id, prevHash: _hash, ...entry }) => entry);
    expect(withoutWords).toStrictEqual(fileWithoutLinks);
    expect(rows.filter((row) => row.words.length < 4 || /undefined|NaN|\[object/.test(row.words))).toStrictEqual([]);
  });

  test('of a session that is not there: none', async () => {
    const station = await startStation(newFolder());
    expect(await entries(station, 'no-such-session', 0, 10)).toMatchObject({ rows: [], more: false });
  });
});

test('a discharged session takes an addendum after the station was started anew, and nothing else', async () => {
  const data = newFolder();
  const sessionId = await dischargedIn(data);
  const station = await startStation(data, '--practice');
  const words = { words: 'the patient rang: all is well', reason: 'called the day after' };
  const base = { type: 'command', sessionId, seq: Number.MAX_SAFE_INTEGER, by: NURSE };
  const addendum = { ...base, requestId: newRequestId(), command: { kind: 'addendum', ...words } };
  const note = { ...base, requestId: newRequestId(), command: { kind: 'note', words: 'all is well' } };
  expect((await station.ask(note)).type).toBe('refused');
  entered(await station.ask(addendum));
  expect(kindsIn(station.database, sessionId).slice(-2)).toStrictEqual(['discharge', 'addendum']);
});

test('what the carrier reports is entered as the station’s own, in no session', async () => {
  const station = await startStation(newFolder());
  const { sessionId } = await open(station);
  station.frame({ report: { kind: 'window-crashed', words: 'console: out of memory' } });
  await station.look();
  expect(entriesIn(station.database).at(-1)).toMatchObject({
    kind: 'window-crashed',
    sessionId: null,
    author: { initials: 'station', role: 'station' },
    payload: { words: 'console: out of memory' },
  });
  const next = requestOf(station, sessionId, { by: NURSE, command: { kind: 'note', words: 'console is back' } });
  entered(await station.ask(next));
});
