import { describe, expect, onTestFinished, test } from 'vitest';
import { DEVIATION_IDS, deviationsOf } from '../../core/ledger/deviations.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { DEFAULT_LIMITS, type Limits, limitsSchema } from '../../core/settings/limits.ts';
import { catchUp } from '../../electron/station/finding/catch-up.ts';
import { indexFileOf, openIndex } from '../../electron/station/finding/index-file.ts';
import { ledgerReader } from '../../electron/station/finding/ledger-reader.ts';
import { readLedgerFile } from '../../electron/station/read-file.ts';
import { allOf, bringUp, finderOf, generatedLedger, pageOf } from './generated-ledger.ts';

const ledger = generatedLedger(60, 9);

const OTHERS: readonly Limits[] = [
  limitsSchema.parse({ lightStartWithinS: 5, infusionWithinS: 2, flushWithinS: 1 }),
  limitsSchema.parse({ lightStartWithinS: 600, infusionWithinS: 600, holdMaxS: 3600, latePressMaxS: 300 }),
];

/** What a reading of the entries themselves finds by some limits. */
function foundIn(file: string, limits: Limits): Record<string, string[]> {
  const reader = readLedgerFile(file);
  const station = [...reader.entries()].filter(({ sessionId }) => sessionId === null);
  const found = reader.sessions().map(({ id }): [string, string[]] => {
    const ids = deviationsOf(measuresOf(reader.entriesOf(id), station), limits).map(({ ruleId }) => ruleId);
    return [id, DEVIATION_IDS.filter((one) => ids.includes(one))];
  });
  reader.close();
  return Object.fromEntries(found);
}

describe('limits that were changed', () => {
  test.each(OTHERS)('read the past anew, and back again', (limits) => {
    const file = ledger.copy();
    for (const by of [limits, DEFAULT_LIMITS]) {
      const finding = finderOf(file, by);
      bringUp(finding);
      const rows = allOf(finding, {});
      expect(Object.fromEntries(rows.map((row) => [row.sessionId, row.deviations]))).toStrictEqual(foundIn(file, by));
      expect(pageOf(finding, { deviation: 'any' }).total.sessions).toBe(
        rows.filter(({ deviations }) => deviations.length > 0).length,
      );
      finding.close();
    }
    expect(foundIn(file, limits)).not.toStrictEqual(foundIn(file, DEFAULT_LIMITS));
  });

  test('read it from what is kept: no entry is read again', () => {
    const file = ledger.copy();
    const reader = ledgerReader(file);
    const identity = reader.identity();
    if (identity === null) throw new Error('a ledger has an identity');
    const [limits] = OTHERS;
    const db = openIndex(indexFileOf(file), reader, identity, limits ?? DEFAULT_LIMITS);
    onTestFinished(() => {
      db.close();
      reader.close();
    });
    const read = (): never => {
      throw new Error('entries were read');
    };
    const index = catchUp(db, { ...reader, read }, limits ?? DEFAULT_LIMITS);
    expect(index.indexed()).toMatchObject({ sessions: 60, readings: 0 });
    while (index.step());
    expect(index.indexed()).toMatchObject({ sessions: 60, readings: 60 });
  });
});
