import { describe, expect, test } from 'vitest';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { audit } from './audit.ts';
import { auditedLedger } from './audited-ledger.ts';
import { auditorAt } from './auditor.ts';

const AUDIT_MS = 300_000;

describe.skipIf(CHROMIUM === null)('an audit in the browser', () => {
  const screens = carriedScreens(1, auditedLedger);

  test('goes by the keyboard alone, from the question to the addendum', { timeout: AUDIT_MS }, async () => {
    const page = await screens.open('ledger');
    await audit(auditorAt(page), screens.carrier().ledgerFile);
    expect(screens.errors).toEqual([]);
  });
});
