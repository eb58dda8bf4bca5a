import { copyFileSync, existsSync, mkdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { MEASURES_VERSION } from '../../core/ledger/measures.ts';
import { indexFileOf } from '../../electron/station/finding/index-file.ts';
import { behindItsBack } from '../ledger/finished-ledger.ts';
import { allOf, bringUp, bytesHash, finderOf, generatedLedger, pageOf } from './generated-ledger.ts';

const ledger = generatedLedger(30, 5);
const other = generatedLedger(20, 6);

function inIndex(file: string, sql: string): void {
  const db = new DatabaseSync(indexFileOf(file));
  db.exec(sql);
  db.close();
}

/** Overwrites a stretch in the middle of the index. */
function overwrite(file: string): void {
  const bytes = readFileSync(indexFileOf(file));
  bytes.fill(0x5a, Math.floor(bytes.length / 3), Math.floor(bytes.length / 3) + 40_000);
  writeFileSync(indexFileOf(file), bytes);
}

/** Ways in which what lies beside a ledger may be no index of it. */
const NO_INDEX_OF_IT: Readonly<Record<string, (file: string) => void>> = {
  'is not there': (file) => rmSync(indexFileOf(file)),
  'is empty': (file) => truncateSync(indexFileOf(file), 0),
  'is no database': (file) => writeFileSync(indexFileOf(file), 'this is no database, but a line of words\n'.repeat(99)),
  'is cut short': (file) => truncateSync(indexFileOf(file), 20_000),
  'is overwritten in its midst': overwrite,
  'is another ledger’s': (file) => copyFileSync(indexFileOf(other.file), indexFileOf(file)),
  'is the ledger itself': (file) => copyFileSync(file, indexFileOf(file)),
  'is kept in the way of an older version': (file) => inIndex(file, 'PRAGMA user_version = 0'),
  'is kept in the way of a newer version': (file) => inIndex(file, 'PRAGMA user_version = 99'),
  'has measures of an older version': (file) =>
    inIndex(file, `UPDATE about SET measures_version = ${MEASURES_VERSION - 1}`),
  'has lost a table': (file) => inIndex(file, 'DROP TABLE marks'),
  'does not say what it is of': (file) => inIndex(file, 'DELETE FROM about'),
  'knows of more entries than the ledger has': (file) => inIndex(file, 'UPDATE about SET upto_seq = upto_seq + 10'),
};

describe('an index that', () => {
  test.each(Object.entries(NO_INDEX_OF_IT))(
    '%s: is thrown away and made again, and the ledger is not touched',
    (_how, spoil) => {
      const file = ledger.copy();
      const good = allOf(finderOf(file), {});
      const before = bytesHash(file);
      const copy = ledger.copy();
      spoil(copy);
      const finding = finderOf(copy);
      expect(bringUp(finding)).toBeGreaterThan(0);
      expect(allOf(finding, {})).toStrictEqual(good);
      expect(bytesHash(copy)).toBe(before);
    },
  );

  test('is of a ledger that was rewritten since: is made again, and says what the ledger says now', () => {
    const file = ledger.copy();
    behindItsBack(file, (db) => {
      db.exec("UPDATE entries SET hash = replace(hash, '0', '1') WHERE seq = (SELECT max(seq) FROM entries)");
    });
    expect(bringUp(finderOf(file))).toBeGreaterThan(0);
  });

  test('is whole: is kept, and nothing is read again', () => {
    expect(bringUp(finderOf(ledger.copy()))).toBe(0);
  });

  test.each([
    ['loses a table', 'DROP TABLE marks'],
    ['has a row bent', "UPDATE sessions SET shown = replace(shown, 'state', 'estate')"],
    ['has a row cut', 'UPDATE sessions SET shown = substr(shown, 1, 100)'],
  ])('%s while it is in use: is made again at the next question', (_how, sql) => {
    const file = ledger.copy();
    const finding = finderOf(file);
    const good = allOf(finding, {});
    inIndex(file, sql);
    expect(pageOf(finding, { eye: 'right' }).indexed.of).toBe(good.length);
    bringUp(finding);
    expect(allOf(finding, {})).toStrictEqual(good);
  });

  test('cannot be made where it belongs: the question is answered with words, and the ledger is not touched', () => {
    const file = ledger.copy();
    rmSync(indexFileOf(file));
    mkdirSync(indexFileOf(file));
    const before = bytesHash(file);
    expect(() => pageOf(finderOf(file), {})).toThrow();
    expect(bytesHash(file)).toBe(before);
    expect(existsSync(indexFileOf(file))).toBe(true);
  });
});

test('of a ledger with a damaged stretch, what can be read is found, and the others say what is wrong with them', () => {
  const file = ledger.copy();
  const whole = allOf(finderOf(file), {});
  const bytes = readFileSync(file);
  bytes.fill(0x5a, Math.floor(bytes.length / 2), Math.floor(bytes.length / 2) + 3 * 4096);
  writeFileSync(file, bytes);
  rmSync(indexFileOf(file));
  const finding = finderOf(file);
  bringUp(finding);
  const rows = allOf(finding, {});
  const troubled = rows.filter(({ trouble }) => trouble !== null);
  expect(rows).toHaveLength(whole.length);
  expect(troubled.length).toBeGreaterThan(0);
  expect(whole.filter((row) => rows.some((one) => one.lastSeq === row.lastSeq && one.trouble === null)).length).toBe(
    whole.length - troubled.length,
  );
});

test('an entry that was bent behind the ledger’s back: its session is found, and says from where on it cannot be read', () => {
  const file = ledger.copy();
  const [newest] = allOf(finderOf(file), { state: 'discharged' });
  const seq = (newest?.firstSeq ?? 0) + 9;
  behindItsBack(file, (db) => {
    db.prepare(
      "UPDATE entries SET payload = '{}', kind = 'prepare' WHERE seq = (SELECT max(seq) FROM entries WHERE session = ? AND seq <= ?)",
    ).run(newest?.sessionId ?? '', seq);
  });
  rmSync(indexFileOf(file));
  const finding = finderOf(file);
  bringUp(finding);
  const row = allOf(finding, {}).find(({ sessionId }) => sessionId === newest?.sessionId);
  expect(row).toMatchObject({ lastSeq: newest?.lastSeq, entries: newest?.entries });
  expect(row?.trouble).toMatch(/^entry \d+: /);
  const reading = finding.answer({ type: 'reading', requestId: 'a-request', sessionId: row?.sessionId ?? '' });
  expect(reading).toMatchObject({ says: row?.trouble });
});

test('while it is made, answers say how far it has come, and the newest sessions are there first', () => {
  const file = ledger.copy();
  const whole = allOf(finderOf(file), {});
  rmSync(indexFileOf(file));
  const finding = finderOf(file);
  finding.step();
  const { rows, indexed } = pageOf(finding, {}, null, 10);
  expect(rows).toStrictEqual(whole.slice(0, 10));
  expect(indexed.of).toBe(30);
  expect(indexed.sessions).toBeGreaterThanOrEqual(16);
  bringUp(finding);
  expect(pageOf(finding, {}).indexed).toMatchObject({ sessions: 30, readings: 30, of: 30 });
});
