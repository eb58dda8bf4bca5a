import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { expect, onTestFinished, test } from 'vitest';
import type { FindCursor } from '../../core/ledger/find-filter.ts';
import { following, type LedgerStore, ledgerStore } from '../../electron/station/ledger.ts';
import { openDatabase } from '../../electron/station/open-database.ts';
import { NURSE } from '../session-steps.ts';
import { allOf, finderOf, generatedLedger, pageOf } from './generated-ledger.ts';

const ledger = generatedLedger(40, 4);

/** Opens a session in a ledger at an instant of wall time. */
function open(store: LedgerStore, wallMs: number): string {
  const sessionId = randomUUID();
  const at = { continuousMs: 1, boot: 'boot-of-today', wallMs, offsetMin: 60 };
  const payload = { practice: false, settings: {} };
  store.insert(
    following({ sessionId, kind: 'open-session', payload, at, by: NURSE, commandId: randomUUID() }, store.last()),
  );
  return sessionId;
}

/** What is opened between two pages, against the ledger's last session: later, or, on a clock set back, earlier. */
const opened = fc.array(fc.constantFrom(60_000, 1000, -1000, -86_400_000, -10 * 86_400_000), { maxLength: 3 });

test('page after page, each session is there once, while others are opened and whatever the clock says then', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 30 }), fc.array(opened, { minLength: 1, maxLength: 6 }), (limit, between) => {
      const file = ledger.copy();
      const store = ledgerStore(openDatabase(file));
      const finding = finderOf(file);
      const known = allOf(finding, {}).map(({ sessionId }) => sessionId);
      const lastWallMs = store.last()?.wallMs ?? 0;
      const seen: string[] = [];
      const since: string[] = [];
      let cursor: FindCursor | null = null;
      for (let page = 0; page === 0 || cursor !== null; page += 1) {
        const found = pageOf(finding, {}, cursor, limit);
        expect(found.rows.length).toBeLessThanOrEqual(limit);
        seen.push(...found.rows.map(({ sessionId }) => sessionId));
        cursor = found.next;
        since.push(...(between[page] ?? []).map((laterMs) => open(store, lastWallMs + laterMs)));
      }
      store.close();
      finding.close();
      expect(new Set(seen).size, 'none twice').toBe(seen.length);
      expect(seen.filter((sessionId) => !since.includes(sessionId))).toStrictEqual(known);
    }),
    { numRuns: 12 },
  );
});

test('what was opened a moment ago is found, and first', () => {
  const file = ledger.copy();
  const store = ledgerStore(openDatabase(file));
  onTestFinished(() => store.close());
  const finding = finderOf(file);
  const wallMs = (store.last()?.wallMs ?? 0) + 60_000;
  const sessionId = open(store, wallMs);
  expect(pageOf(finding, {}, null, 1).rows).toMatchObject([{ sessionId, state: 'planning', openedWallMs: wallMs }]);
  expect(pageOf(finding, { fromWallMs: wallMs }).total.sessions).toBe(1);
});
