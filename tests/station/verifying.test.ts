import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { WholeReading } from '../../core/protocol/verifying.ts';
import { behindItsBack } from '../ledger/finished-ledger.ts';
import { ledgerCommand } from '../ledger/ledger-command.ts';
import { auditedLedger } from '../screens/ledger/audited-ledger.ts';
import { entriesIn } from './independent-reading.ts';
import { newRequestId, type StationUnderTest, startStation } from './station-under-test.ts';

/** A station on an audited ledger, changed behind its back or not. */
async function audited(change: (sql: (text: string) => void) => void = () => {}): Promise<StationUnderTest> {
  const folder = auditedLedger();
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  behindItsBack(join(folder, 'practice.sqlite3'), (db) => change((text) => db.exec(text)));
  return startStation(folder, '--practice');
}

/** Asks as a screen does: again under the same name until it is read. */
async function reading(station: StationUnderTest, anchor: string | null = null): Promise<WholeReading> {
  const run = newRequestId();
  for (;;) {
    const answer = await station.reply({ type: 'verify', requestId: newRequestId(), run, anchor });
    if (answer.type !== 'verifying') throw new Error(JSON.stringify(answer));
    expect(answer.run).toBe(run);
    if (answer.reading !== null) return answer.reading;
    expect(answer.share).toBeLessThanOrEqual(1);
  }
}

describe('the ledger is read through for a screen', () => {
  test('sound, it names its last entry and an anchor that the command line takes too', async () => {
    const station = await audited();
    const last = entriesIn(station.database).at(-1);
    const came = await reading(station);
    expect(came).toMatchObject({ sound: true, problems: [], headSeq: last?.seq, headHash: last?.hash });
    const anchor = 'anchor' in came ? (came.anchor ?? '') : '';
    expect((await ledgerCommand('verify', station.database, '--anchor', anchor)).code).toBe(0);
    expect(await reading(station, anchor)).toMatchObject({ sound: true });
  });

  test('changed in one entry, it names that entry, and until when all was sound', async () => {
    const station = await audited((sql) => sql(`UPDATE entries SET wall_ms = wall_ms + 1 WHERE seq = 31`));
    const before = entriesIn(station.database).find(({ seq }) => seq === 30);
    expect(await reading(station)).toMatchObject({
      sound: false,
      problemCount: 1,
      problems: [
        {
          seq: 31,
          what: expect.stringContaining('changed after it was written'),
          since: new Date(before?.wallMs ?? 0).toISOString(),
        },
      ],
    });
  });

  test('held against an anchor of another entry, it says that it was rewritten; what is no anchor is refused', async () => {
    const station = await audited();
    const came = await reading(station);
    const anchor = 'anchor' in came ? (came.anchor ?? '') : '';
    const other = anchor.replace(/.$/, (last) => (last === '0' ? '1' : '0'));
    expect(await reading(station, other)).toMatchObject({
      sound: false,
      problems: [{ what: expect.stringContaining('rewritten since') }],
    });
    const refused = { type: 'verify', requestId: newRequestId(), run: newRequestId(), anchor: 'dimroom:no' };
    expect(await station.reply(refused)).toMatchObject({
      type: 'error',
      says: expect.stringMatching(/^that is not an anchor/),
    });
  });
});

test('where things are kept is told as it is', async () => {
  const station = await audited();
  const answer = await station.reply({ type: 'places', requestId: newRequestId() });
  expect(answer).toMatchObject({
    type: 'places',
    ledger: station.database,
    index: station.database.replace('.sqlite3', '.finding.sqlite3'),
    folder: station.database.replace('/practice.sqlite3', ''),
    copies: null,
  });
});
