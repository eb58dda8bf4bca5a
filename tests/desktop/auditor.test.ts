import { join } from 'node:path';
import { afterAll, beforeAll, describe, test } from 'vitest';
import { audit } from '../screens/ledger/audit.ts';
import { auditedLedger } from '../screens/ledger/audited-ledger.ts';
import { auditorAt } from '../screens/ledger/auditor.ts';
import { nurseAt } from '../screens/nurse.ts';
import { type Desktop, desktop, HAS_DESKTOP } from './desktop.ts';

const AUDIT_MS = 400_000;

describe.skipIf(!HAS_DESKTOP)('an audit on the desktop', () => {
  let desk: Desktop;
  let downloads: string;

  beforeAll(async () => {
    desk = await desktop(1, auditedLedger());
    downloads = join(desk.folder, 'downloads');
    await desk.app.evaluate(({ app }, folder) => app.setPath('downloads', folder), downloads);
  });
  afterAll(() => desk?.stop());

  test('goes by the keyboard alone over the console, which is there again afterwards', {
    timeout: AUDIT_MS,
  }, async () => {
    const nurse = nurseAt(desk.console);
    await nurse.stateIs('no session');
    await nurse.press('g');
    await audit(auditorAt(desk.console, downloads), desk.ledgerFile);
    await nurse.press('Escape');
    await nurse.stateIs('no session');
  });
});
