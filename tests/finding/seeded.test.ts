import { describe, expect, test } from 'vitest';
import { DEVIATION_IDS, type DeviationId } from '../../core/ledger/deviations.ts';
import { Verifier } from '../../core/ledger/verify.ts';
import { readLedgerFile } from '../../electron/station/read-file.ts';
import { sha256 } from '../../electron/station/sha256.ts';
import { SEEDS } from '../generated/seeds.ts';
import { allOf, finderOf, generatedLedger } from './generated-ledger.ts';

const SESSIONS = 300;
const ledger = generatedLedger(SESSIONS);

describe('a generated ledger', () => {
  test('is a sound one: pages, schema, triggers, chain, and every session replayed', () => {
    const file = readLedgerFile(ledger.file);
    const verifier = new Verifier(sha256);
    for (const fault of file.structure()) verifier.note(fault);
    for (const found of file.found()) verifier.take(found);
    file.close();
    const { problems, sessions, entries } = verifier.result();
    expect(problems).toStrictEqual([]);
    expect(sessions).toBe(SESSIONS);
    expect(entries).toBe(ledger.made.entries);
  });

  test('has every kind of deviation that the procedure lets happen', () => {
    const seeded = new Set(SEEDS.flatMap(({ finds }) => finds));
    expect(DEVIATION_IDS.filter((id) => !seeded.has(id))).toStrictEqual(['check-by-same-hands']);
  });
});

describe('through the index', () => {
  const sorted = (ids: readonly string[]): string[] => [...ids].sort();

  test('each session has the deviations that were seeded into it, and no others', () => {
    const rows = new Map(allOf(finderOf(ledger.copy()), {}).map((row) => [row.sessionId, row]));
    expect(rows.size).toBe(SESSIONS);
    const found = ledger.truths.map(({ sessionId }) => sorted(rows.get(sessionId)?.deviations ?? ['not found']));
    expect(found).toStrictEqual(ledger.truths.map(({ deviations }) => sorted(deviations)));
  });

  test.each(DEVIATION_IDS)('the sessions with "%s" are those it was seeded into', (deviation: DeviationId) => {
    const seeded = ledger.truths.filter(({ deviations }) => deviations.includes(deviation));
    const found = allOf(finderOf(ledger.copy()), { deviation });
    expect(sorted(found.map(({ sessionId }) => sessionId))).toStrictEqual(
      sorted(seeded.map(({ sessionId }) => sessionId)),
    );
  });

  test('a row says of a session what is true of it', () => {
    const rows = new Map(allOf(finderOf(ledger.copy()), {}).map((row) => [row.sessionId, row]));
    for (const truth of ledger.truths) {
      const row = rows.get(truth.sessionId);
      expect({
        sessionId: row?.sessionId,
        firstSeq: row?.firstSeq,
        lastSeq: row?.lastSeq,
        entries: row?.entries,
        openedWallMs: row?.openedWallMs,
        offsetMin: row?.offsetMin,
        people: row?.people.map(({ initials }) => initials),
        patientCode: row?.patientCode,
        regimenId: row?.regimen?.id ?? null,
        eyes: row?.eyes,
        lots: row?.lots,
        state: row?.state,
        practice: row?.practice,
        deviations: sorted(row?.deviations ?? []),
      }).toStrictEqual({ ...truth, deviations: sorted(truth.deviations) });
      expect(row?.trouble).toBeNull();
    }
  });
});
