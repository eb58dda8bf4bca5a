import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { requestSchema } from '../../core/protocol/messages.ts';
import { brokenAt, entriesIn, kindsIn } from './independent-reading.ts';
import { newFolder, newRequestId, type StationUnderTest, startStation } from './station-under-test.ts';
import { BEGINNING, entered, NURSE, open, openRequest, requestOf } from './treatment.ts';

const NOTE = { by: NURSE, command: { kind: 'note', words: 'patient is calm' } } as const;

async function stationWithSession(): Promise<{ station: StationUnderTest; sessionId: string }> {
  const station = await startStation(newFolder());
  const { sessionId } = await open(station);
  return { station, sessionId };
}

/** One error, in a sentence that fits a screen, and nothing else: no entry, no end. */
async function expectRefusedWhole(station: StationUnderTest, message: unknown): Promise<void> {
  const before = kindsIn(station.database).length;
  const [answer, ...more] = await station.answers(message);
  expect(answer).toMatchObject({
    type: 'error',
    says: expect.stringMatching(/^not understood, nothing has changed: /),
  });
  expect(answer?.type === 'error' ? answer.says.length : 0).toBeLessThanOrEqual(300);
  expect(more).toStrictEqual([]);
  expect(kindsIn(station.database)).toHaveLength(before);
}

async function expectAlive(station: StationUnderTest, sessionId: string): Promise<void> {
  entered(await station.ask(requestOf(station, sessionId, NOTE)));
  expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
}

function nested(depth: number): unknown {
  let value: unknown = [];
  for (let level = 0; level < depth; level += 1) value = [value];
  return value;
}

describe('a message that is not one of ours is answered with an error and changes nothing', () => {
  test('wrong in one thing, each in turn', async () => {
    const { station, sessionId } = await stationWithSession();
    const right = requestOf(station, sessionId, NOTE);
    const { seq: _seq, ...withoutSeq } = right;
    const wrong: unknown[] = [
      null,
      0,
      true,
      '',
      'hello',
      [],
      {},
      [right],
      JSON.stringify(right),
      { ...right, type: 'comand' },
      { ...right, type: null },
      { ...right, more: 1 },
      withoutSeq,
      { ...right, seq: '2' },
      { ...right, seq: 1.5 },
      { ...right, seq: -1 },
      { ...right, seq: 1e300 },
      { ...right, requestId: 'short' },
      { ...right, requestId: 'x'.repeat(65) },
      { ...right, requestId: 12345678 },
      { ...right, requestId: `\ud800${newRequestId()}` },
      { ...right, requestId: `\u0000${newRequestId()}` },
      { ...right, sessionId: '' },
      { ...right, sessionId: { id: sessionId } },
      { ...right, by: { initials: 'station', role: 'station' } },
      { ...right, by: { initials: 'mo', role: 'nurse' } },
      { ...right, by: { initials: 'MO', role: 'patient' } },
      { ...right, by: 'MO' },
      { ...right, command: { kind: 'infusion-due', dueAtMs: 0 } },
      { ...right, command: { kind: 'rebase', fromBoot: 'one', toBoot: 'two', shiftMs: 0 } },
      { ...right, command: { kind: 'open-session' } },
      { ...right, command: { kind: 'toString' } },
      { ...right, command: { kind: '__proto__' } },
      { ...right, command: { ...right.command, words: 'no' } },
      { ...right, command: { ...right.command, words: 'x'.repeat(501) } },
      { ...right, command: { ...right.command, words: ['calm'] } },
      { ...right, command: { ...right.command, found: { plan: {} } } },
      { ...right, command: { kind: 'measure', heightCm: '168', weightKg: 71.5 } },
      { ...right, command: { kind: 'measure', heightCm: 0, weightKg: 71.5 } },
      { ...right, command: { kind: 'identify', patientCode: 'K-2041', birthDate: '1951-02-30' } },
      JSON.parse(JSON.stringify(right).replace('"type"', '"__proto__":{"practice":true},"type"')),
      { ...openRequest(newRequestId()), practice: false },
      { type: 'hello', protocol: 2, screen: 'console' },
      { type: 'hello', protocol: 1, screen: 'kitchen' },
      { type: 'find', requestId: newRequestId(), filter: {}, cursor: null, limit: 100_000 },
      { type: 'entries', requestId: newRequestId(), sessionId, after: 0, limit: 0 },
    ];
    for (const message of wrong) await expectRefusedWhole(station, message);
    await expectAlive(station, sessionId);
  });

  test('very long, very wide and very deep', async () => {
    const { station, sessionId } = await stationWithSession();
    const right = requestOf(station, sessionId, NOTE);
    const long = 'x'.repeat(4_000_000);
    const wide = Object.fromEntries(Array.from({ length: 50_000 }, (_, index) => [`key-${index}`, index]));
    for (const message of [
      long,
      { ...right, requestId: long },
      { ...right, command: { kind: 'note', words: long } },
      { ...right, [long]: 1 },
      { ...right, ...wide },
      Array.from({ length: 100_000 }, () => right),
      nested(1000),
      { ...right, command: nested(1000) },
    ]) {
      await expectRefusedWhole(station, message);
    }
    await expectAlive(station, sessionId);
  });

  test('whatever JSON it is, and whatever stands in place of a part of a good message', async () => {
    const { station, sessionId } = await stationWithSession();
    const right = requestOf(station, sessionId, NOTE);
    const part = fc.constantFrom('type', 'requestId', 'sessionId', 'seq', 'by', 'command');
    const spoiled = fc.tuple(part, fc.jsonValue()).map(([name, value]) => ({ ...right, [name]: value }));
    const inCommand = fc
      .tuple(fc.constantFrom('kind', 'words', 'reason', 'override'), fc.jsonValue())
      .map(([name, value]) => ({ ...right, command: { ...right.command, [name]: value } }));
    const message = fc
      .oneof(fc.jsonValue(), spoiled, inCommand)
      .filter((value) => !requestSchema.safeParse(JSON.parse(JSON.stringify(value))).success);
    await fc.assert(
      fc.asyncProperty(message, async (value) => expectRefusedWhole(station, value)),
      { numRuns: 150 },
    );
    await expectAlive(station, sessionId);
  });
});

test('words that have no canonical form are answered with an error, and nothing is entered', async () => {
  const { station, sessionId } = await stationWithSession();
  const halfALetter = { by: NURSE, command: { kind: 'note', words: 'patient is calm \ud800' } } as const;
  expect(await station.ask(requestOf(station, sessionId, halfALetter))).toMatchObject({
    type: 'error',
    says: expect.stringMatching(/^not written, nothing has changed/),
  });
  expect(kindsIn(station.database)).toStrictEqual([...BEGINNING, 'open-session']);
  await expectAlive(station, sessionId);
});

test('a frame that is not one of ours is passed over', async () => {
  const { station, sessionId } = await stationWithSession();
  const entries = kindsIn(station.database);
  for (const frame of [
    null,
    7,
    'stop',
    [],
    {},
    { screen: '' },
    { screen: 5, message: {} },
    { stop: 'yes' },
    { stop: true, now: true },
    { advanceToMs: 1e9, token: 1 },
    { advanceToMs: -1, token: 1 },
    { report: { kind: 'discharge', words: '' } },
    { report: { kind: 'closed', words: 'x'.repeat(301) } },
  ]) {
    station.frame(frame);
  }
  await station.look();
  expect(kindsIn(station.database)).toStrictEqual(entries);
  await expectAlive(station, sessionId);
});

test('a stepped clock that is asked to go back stays where it is', async () => {
  const station = await startStation(newFolder(), '--practice', '--stepped');
  await station.advanceTo(60_000);
  await station.advanceTo(1000);
  expect(station.latest().nowMs).toBe(60_000);
});
