import { createHash } from 'node:crypto';
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { PART_BYTES, SESSION_FORMS, type Wanted, type WholeFile } from '../../core/protocol/exporting.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { ledgerCommand } from '../ledger/ledger-command.ts';
import { auditedLedger, PAST } from '../screens/ledger/audited-ledger.ts';
import { entriesIn, kindsIn } from './independent-reading.ts';
import { emergencyIn, newFolder, newRequestId, type StationUnderTest, startStation } from './station-under-test.ts';
import { open, treat, upTo } from './treatment.ts';

/** The longest message that either carrier takes, whole. */
const MOST_MESSAGE_BYTES = 64 * 1024;

/** The form that takes longest sets a whole record on pages, twice. */
const FORM = { timeout: 240_000 };

type Exported = Extract<Message, { type: 'exported' }>;

const begin = (exportId: string, wanted: Wanted) => ({ type: 'export', requestId: exportId, wanted });
const partOf = (exportId: string, part: number) => ({
  type: 'export-part',
  requestId: newRequestId(),
  exportId,
  part,
});

/** Fetches a file as a screen does: one part after the other, and again what is still being made. */
async function fetched(
  station: StationUnderTest,
  wanted: Wanted,
): Promise<{ bytes: Buffer; file: WholeFile; parts: number }> {
  const exportId = newRequestId();
  const parts: Buffer[] = [];
  for (let message: object = begin(exportId, wanted); ; message = partOf(exportId, parts.length)) {
    const answer = exported(await station.reply(message));
    expect(Buffer.byteLength(JSON.stringify(answer))).toBeLessThan(MOST_MESSAGE_BYTES);
    expect(answer.part).toBe(parts.length);
    if (answer.base64 !== '') parts.push(Buffer.from(answer.base64, 'base64'));
    if (answer.whole === null) continue;
    station.tell({ type: 'cancel-export', exportId });
    return { bytes: Buffer.concat(parts), file: answer.whole, parts: parts.length };
  }
}

function exported(answer: Message): Exported {
  if (answer.type !== 'exported') throw new Error(JSON.stringify(answer));
  return answer;
}

describe('a screen that asks for a file', () => {
  let folder = '';
  let sessionIds: string[] = [];
  beforeAll(() => {
    folder = auditedLedger();
    const entries = entriesIn(join(folder, 'practice.sqlite3'));
    sessionIds = [...new Set(entries.flatMap(({ sessionId }) => (sessionId === null ? [] : [sessionId])))];
    return () => rmSync(folder, { recursive: true, force: true });
  });

  /** A station on the audited ledger, ended with the test. */
  async function audited(): Promise<StationUnderTest> {
    const station = await startStation(folder, '--practice', '--emergency', emergencyIn(newFolder()));
    onTestFinished(async () => void (await station.stop()));
    return station;
  }

  test.each(SESSION_FORMS)('gets a session as %s, byte for byte what the command line makes', FORM, async (as) => {
    const station = await audited();
    const [sessionId = ''] = sessionIds;
    const { bytes, file } = await fetched(station, { what: 'session', sessionId, as });
    const out = join(newFolder(), 'export');
    await ledgerCommand('export', station.database, '--session', sessionId, '--as', as, '--out', out);
    expect(bytes.equals(readFileSync(out))).toBe(true);
    expect(file).toMatchObject({ bytes: bytes.length, notes: [] });
    expect(file.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
    expect(file.fileName).toMatch(
      /^PRACTICE-K-2041-\d{4}-\d{2}-\d{2}-\d{4}-(entries\.csv|chain\.json|fhir\.json|record\.pdf)$/,
    );
  });

  test('gets all of one patient, and nothing of any other', async () => {
    const station = await audited();
    const { bytes, file, parts } = await fetched(station, { what: 'patient', patientCode: 'K-2041' });
    const said = bytes.toString('utf8');
    const others = PAST.map(({ patientCode }) => patientCode).filter((code) => code !== 'K-2041');
    expect(file.fileName).toBe('PRACTICE-K-2041-all-sessions-chain.json');
    expect(parts).toBe(Math.ceil(bytes.length / PART_BYTES));
    expect(parts).toBeGreaterThan(1);
    expect(JSON.parse(said).sessions).toHaveLength(2);
    expect(others.filter((code) => said.includes(code))).toStrictEqual([]);
  });

  test('gets the table of every session, one line each', async () => {
    const station = await audited();
    const { bytes } = await fetched(station, { what: 'table', patientCode: null });
    const lines: Record<string, string>[] = parse(bytes, { columns: true });
    expect(lines.map(({ patientCode }) => patientCode)).toStrictEqual(PAST.map(({ patientCode }) => patientCode));
    expect(new Set(lines.map(({ practice }) => practice))).toStrictEqual(new Set(['PRACTICE']));
  });

  test('gets the same bytes for a part that is asked for twice, and no part out of turn', async () => {
    const station = await audited();
    const exportId = newRequestId();
    const wanted: Wanted = { what: 'patient', patientCode: 'K-2041' };
    await made(station, begin(exportId, wanted));
    const second = await made(station, partOf(exportId, 1));
    const again = await made(station, partOf(exportId, 1));
    expect(again.base64).toBe(second.base64);
    expect(await station.reply(partOf(exportId, 4))).toMatchObject({
      type: 'error',
      says: 'part 2 is the next, not 4',
    });
  });

  test('that ends a file gets no more of it, and nothing is written into the ledger', async () => {
    const station = await audited();
    const before = kindsIn(station.database);
    const exportId = newRequestId();
    await made(station, begin(exportId, { what: 'table', patientCode: null }));
    station.tell({ type: 'cancel-export', exportId });
    expect(await station.reply(partOf(exportId, 1))).toMatchObject({
      type: 'error',
      says: 'this file is not being made any more: begin it anew',
    });
    expect(kindsIn(station.database)).toStrictEqual(before);
  });

  test.each<[string, Wanted, RegExp]>([
    [
      'a session that is not there',
      { what: 'session', sessionId: 'nobody-s', as: 'csv' },
      /^there is no session nobody-s/,
    ],
    [
      'a patient who is not there',
      { what: 'patient', patientCode: 'K-9999' },
      /^there is no session of patient K-9999/,
    ],
  ])('hears in words of %s', async (_what, wanted, says) => {
    const station = await audited();
    const answer = await settled(station, begin(newRequestId(), wanted));
    expect(answer).toMatchObject({ type: 'error', says: expect.stringMatching(says) });
  });
});

test('what is withheld from whoever computes second is in no file', async () => {
  const station = await startStation(newFolder());
  const { sessionId } = await open(station);
  await treat(station, sessionId, upTo('measure'));
  const answer = await settled(station, begin(newRequestId(), { what: 'session', sessionId, as: 'csv' }));
  expect(answer).toMatchObject({ type: 'error', says: expect.stringMatching(/withheld until a second person/) });
  const { bytes } = await fetched(station, { what: 'table', patientCode: null });
  expect(bytes.toString('utf8')).not.toContain('full dose');
});

/** The answer, once what it waits for is no longer being made. */
async function settled(station: StationUnderTest, message: object): Promise<Message> {
  for (;;) {
    const answer = await station.reply(message);
    if (answer.type !== 'exported' || answer.base64 !== '' || answer.whole !== null) return answer;
  }
}

const made = async (station: StationUnderTest, message: object): Promise<Exported> =>
  exported(await settled(station, message));
