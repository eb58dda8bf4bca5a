import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import type { CommandOf } from '../../core/procedure/commands.ts';
import { verify } from '../../electron/auditing/reports.ts';
import { auditedLedger } from '../screens/ledger/audited-ledger.ts';
import { entriesIn, type FoundEntry } from './independent-reading.ts';
import { newRequestId, type StationUnderTest, startStation } from './station-under-test.ts';
import { entered, sentences } from './treatment.ts';

const AUDITOR = { initials: 'AU', role: 'auditor' } as const;
const WORDS = { kind: 'addendum', words: 'the laser was being warmed up', reason: 'asked afterwards' } as const;

describe('an addendum to a session that is over', () => {
  let folder = '';
  let before: FoundEntry[] = [];
  let first: FoundEntry[] = [];
  beforeAll(() => {
    folder = auditedLedger();
    before = entriesIn(join(folder, 'practice.sqlite3'));
    first = before.filter(({ sessionId }) => sessionId !== null && sessionId === before[1]?.sessionId);
    return () => rmSync(folder, { recursive: true, force: true });
  });

  async function audited(): Promise<StationUnderTest> {
    const station = await startStation(folder, '--practice');
    onTestFinished(async () => void (await station.stop()));
    return station;
  }

  const add = (command: CommandOf<'addendum'>) => ({
    type: 'command',
    requestId: newRequestId(),
    sessionId: first[0]?.sessionId ?? '',
    seq: Number.MAX_SAFE_INTEGER,
    by: AUDITOR,
    command,
  });

  test('may be about any entry of that session, whoever adds it, and leaves that entry as it is', async () => {
    const station = await audited();
    const about = first[20];
    entered(await station.ask(add({ ...WORDS, entrySeq: about?.seq ?? 0 })));
    const after = entriesIn(station.database);
    expect(after.at(-1)).toMatchObject({
      sessionId: about?.sessionId,
      kind: 'addendum',
      author: AUDITOR,
      payload: { entrySeq: about?.seq, words: WORDS.words, reason: WORDS.reason },
    });
    expect(after.slice(0, before.length)).toStrictEqual(before);
    expect(verify(station.database, null).sound).toBe(true);
  });

  test('is told in words that name the entry', async () => {
    const station = await audited();
    const sessionId = first[0]?.sessionId;
    const asked = { type: 'entries', requestId: newRequestId(), sessionId, after: 0, limit: 500 };
    const answer = await station.ask(asked);
    const words = answer.type === 'entries' ? answer.rows.map((row) => row.words) : [];
    expect(words.at(-1)).toBe(
      `addendum to entry ${first[20]?.seq}: the laser was being warmed up. Reason: asked afterwards`,
    );
  });

  test('is refused where it is about an entry of another session, of none, or not there, and nothing is entered', async () => {
    const station = await audited();
    const known = entriesIn(station.database);
    const other = before.find(({ sessionId }) => sessionId !== null && sessionId !== first[0]?.sessionId);
    for (const entrySeq of [other?.seq ?? 0, 1, known.length + 1000]) {
      const answer = await station.ask(add({ ...WORDS, entrySeq }));
      expect(sentences(answer)).toBe(`entry ${entrySeq} is not one of this session: name one that is`);
    }
    expect(entriesIn(station.database)).toStrictEqual(known);
  });
});
