import { DatabaseSync } from 'node:sqlite';
import { expect, test } from 'vitest';
import { MIGRATIONS } from '../../electron/station/migrations/index.ts';
import { bytesBeside } from '../ledger/ledger-command.ts';
import { startStation } from '../station/station-under-test.ts';
import { ledgerFrom } from './kept-ledgers.ts';

test('a ledger of a newer Dimroom is refused with a sentence, and left as it is', async () => {
  const { data, file } = ledgerFrom(MIGRATIONS.length);
  const db = new DatabaseSync(file);
  db.exec(`PRAGMA user_version = ${MIGRATIONS.length + 1}`);
  db.close();
  const before = bytesBeside(file);
  await expect(startStation(data, '--practice')).rejects.toMatchObject({
    message: `${file} was written by a newer Dimroom: start that version`,
    code: 3,
  });
  expect(bytesBeside(file)).toEqual(before);
});
