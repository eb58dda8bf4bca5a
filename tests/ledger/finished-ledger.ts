import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll } from 'vitest';
import { reportOf, run } from '../rehearsal/rehearsal.ts';
import { newFolder } from '../station/station-under-test.ts';
import { NURSE, SCENARIOS } from '../station/treatment.ts';

/**
 * A ledger of one whole session and a second that has just begun, made once for a file of tests. Each test that changes it gets a
 * copy of its own.
 */
export function finishedLedger(): { copy(): string; readonly file: string; readonly sessionId: string } {
  const made = { file: '', sessionId: '' };
  let folder = '';
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'dimroom-test-'));
    const scenario = join(folder, 'scenario.json');
    const whole = JSON.parse(readFileSync(join(SCENARIOS, 'full-session.json'), 'utf8'));
    const begun = { atS: 1740, by: NURSE, session: 'second', command: { kind: 'open-session' } };
    writeFileSync(scenario, JSON.stringify([...whole, begun]));
    const { database, sessionId } = reportOf(await run(['--scenario', scenario, '--data', folder]));
    takeIn(database);
    Object.assign(made, { file: database, sessionId });
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return {
    get file() {
      return made.file;
    },
    get sessionId() {
      return made.sessionId;
    },
    copy: () => {
      const file = join(newFolder(), 'ledger.sqlite3');
      copyFileSync(made.file, file);
      return file;
    },
  };
}

/** Has everything in the one file, so that a copy of it is a copy of all. */
function takeIn(file: string): void {
  const db = new DatabaseSync(file);
  db.exec('PRAGMA wal_checkpoint(TRUNCATE); PRAGMA journal_mode = DELETE');
  db.close();
}

type Trigger = { readonly name: string; readonly sql: string };

/**
 * Changes a ledger as somebody would who knows SQL: guards are dropped, data are changed, and the guards are put back
 * word for word, so that nothing but the data tells.
 */
export function behindItsBack(file: string, change: (db: DatabaseSync) => void): void {
  const db = new DatabaseSync(file, { enableForeignKeyConstraints: false });
  const triggers = db
    .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
    .all() as unknown as readonly Trigger[];
  db.exec('PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY; BEGIN');
  for (const { name } of triggers) db.exec(`DROP TRIGGER "${name}"`);
  change(db);
  for (const { sql } of triggers) db.exec(sql);
  db.exec('COMMIT');
  db.close();
}
