import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { MIGRATIONS } from '../../electron/station/migrations/index.ts';
import type { Desktop } from '../desktop/desktop.ts';
import { keptLedger } from '../migrations/kept-ledgers.ts';
import { HAS_PACKAGING, MAKING_MS, newDataFolder, startPackaged } from './packaged-app.ts';

describe.skipIf(!HAS_PACKAGING)('an app that is older than its ledger', () => {
  let desk: Desktop;

  beforeAll(async () => {
    const folder = newDataFolder();
    const file = join(folder, 'practice.sqlite3');
    copyFileSync(keptLedger(MIGRATIONS.length), file);
    const db = new DatabaseSync(file);
    db.exec(`PRAGMA user_version = ${MIGRATIONS.length + 1}`);
    db.close();
    desk = await startPackaged({ words: ['--practice'], folder });
  }, MAKING_MS);
  afterAll(() => desk?.stop());

  test('says on its screens that the newer version is to be started', async () => {
    const sentence = `${desk.ledgerFile} was written by a newer Dimroom: start that version`;
    await desk.console.getByText(sentence).first().waitFor();
    expect(await desk.console.getByText('open a session').isVisible()).toBe(false);
  });
});
