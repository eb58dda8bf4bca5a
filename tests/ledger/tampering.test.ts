import { createHash } from 'node:crypto';
import { DatabaseSync } from 'node:sqlite';
import { canonicalize } from 'json-canonicalize';
import { beforeAll, describe, expect, test } from 'vitest';
import { anchor, verify } from '../../electron/auditing/reports.ts';
import { entriesIn, type FoundEntry } from '../station/independent-reading.ts';
import { behindItsBack, finishedLedger } from './finished-ledger.ts';

const ledger = finishedLedger();
let entries: FoundEntry[] = [];
let heldAnchor = '';
beforeAll(() => {
  entries = entriesIn(ledger.file);
  heldAnchor = anchor(ledger.file).anchor;
});

/** What verification finds in a copy that was changed: sequence and words of each problem. */
function foundAfter(change: (db: DatabaseSync) => void, anchorText: string | null = null) {
  const file = ledger.copy();
  behindItsBack(file, change);
  const report = verify(file, anchorText);
  expect(report.sound).toBe(report.problems.length === 0);
  return report.problems.map(({ seq, what }) => [seq, what] as const);
}

const changedAt = (seq: number): readonly [number, RegExp] => [seq, /changed after it was written|cannot be read/];
const run = (sql: string) => (db: DatabaseSync) => db.exec(sql);

test('a ledger that nobody touched is sound, and its guards dropped and put back change nothing', () => {
  expect(verify(ledger.file, null)).toMatchObject({ sound: true, problems: [], headSeq: entries.length });
  expect(foundAfter(() => {})).toStrictEqual([]);
  expect(foundAfter(() => {}, heldAnchor)).toStrictEqual([]);
});

/** Another value of each column that the column takes. Values are SQL. */
const OTHER: Record<string, string> = {
  session: "coalesce((SELECT max(id) FROM sessions WHERE id <> entries.session), 'nobody')",
  kind: "CASE kind WHEN 'note' THEN 'review' ELSE 'note' END",
  payload: "json_set(payload, '$.words', 'another')",
  wall_ms: 'wall_ms + 1',
  offset_min: 'offset_min + 60',
  continuous_ms: 'continuous_ms + 0.001',
  boot: "boot || 'x'",
  author: "CASE author WHEN 'ZZ' THEN 'YY' ELSE 'ZZ' END",
  role: "CASE role WHEN 'physician' THEN 'nurse' ELSE 'physician' END",
  command_id: "coalesce(command_id, '') || 'x'",
  prev_hash: "'f' || substr(prev_hash, 2, 62) || CASE substr(prev_hash, 64) WHEN '0' THEN '1' ELSE '0' END",
  hash: "substr(hash, 1, 63) || CASE substr(hash, 64) WHEN '0' THEN '1' ELSE '0' END",
};

describe.each(Object.entries(OTHER))('%s changed', (column, value) => {
  test('in any one entry is found, at that entry first', () => {
    for (const { seq } of entries) {
      const [first] = foundAfter(run(`UPDATE entries SET ${column} = ${value} WHERE seq = ${seq}`)).filter(
        ([at]) => at !== null,
      );
      const [wantedSeq, words] = changedAt(seq);
      expect([column, first?.[0], first?.[1]]).toStrictEqual([column, wantedSeq, expect.stringMatching(words)]);
    }
  });
});

describe('a payload that says the same to this program and something else to another reader', () => {
  test.each([
    ['a name given twice', `'{"words":"forged",' || substr(payload, 2)`],
    ['other spaces', `' ' || payload`],
    ['a letter written as its number', `replace(payload, '"words":"', '"words":"\\u0020')`],
  ])('%s', (_name, value) => {
    const note = entries.find(({ kind }) => kind === 'reactions')?.seq ?? 0;
    expect(foundAfter(run(`UPDATE entries SET payload = ${value} WHERE seq = ${note}`))[0]?.[0]).toBe(note);
  });
});

describe('entries removed, moved or added', () => {
  test('any one but the last removed: it is named as missing', () => {
    for (const { seq } of entries.slice(0, -1)) {
      const found = foundAfter(run(`DELETE FROM entries WHERE seq = ${seq}`));
      expect(found.find(([at]) => at !== null)).toStrictEqual([seq, `entry ${seq} is missing`]);
    }
  });

  test('any one given another place: it is missing from its own', () => {
    for (const { seq } of entries) {
      const found = foundAfter(run(`UPDATE entries SET seq = seq + 1000 WHERE seq = ${seq}`));
      expect(found.find(([at]) => at !== null)).toStrictEqual([seq, expect.stringMatching(/ missing$/)]);
      expect(found.map(([at]) => at)).toContain(seq + 1000);
    }
  });

  test('several removed at once are named together', () => {
    expect(foundAfter(run('DELETE FROM entries WHERE seq BETWEEN 9 AND 12'))).toContainEqual([
      9,
      'entries 9 to 12 are missing',
    ]);
  });

  test('any two neighbours swapped: both are named', () => {
    for (const { seq } of entries.slice(0, -1)) {
      const found = foundAfter((db) => {
        db.exec(
          `UPDATE entries SET seq = -1 WHERE seq = ${seq}; UPDATE entries SET seq = ${seq} WHERE seq = ${seq + 1}`,
        );
        db.exec(`UPDATE entries SET seq = ${seq + 1} WHERE seq = -1`);
      });
      const changed = found.filter(([, what]) => what.startsWith('changed')).map(([at]) => at);
      expect(changed).toStrictEqual([seq, seq + 1]);
    }
  });

  test('a removed one closed up by renumbering: every one after it is named', () => {
    const found = foundAfter((db) => {
      db.exec('DELETE FROM entries WHERE seq = 20');
      for (const { seq } of entries.slice(20)) db.exec(`UPDATE entries SET seq = ${seq - 1} WHERE seq = ${seq}`);
    });
    const changed = found.filter(([, what]) => what.startsWith('changed')).map(([at]) => at);
    expect(changed).toStrictEqual(entries.slice(20).map(({ seq }) => seq - 1));
  });

  test.each([
    ['after the last', entries.length + 1],
    ['far after the last', 1000],
    ['before the first', 0],
    ['below nought', -5],
  ])('one inserted %s is named', (where, place) => {
    const seq = where === 'after the last' ? entries.length + 1 : place;
    const found = foundAfter((db) => insertCopy(db, 5, { seq, hash: 'e'.repeat(64) }));
    expect(found.map(([at]) => at)).toContain(seq);
  });

  test('one inserted in the middle, the others moved up: it is named', () => {
    const found = foundAfter((db) => {
      for (const { seq } of entries.slice(10).reverse())
        db.exec(`UPDATE entries SET seq = ${seq + 1} WHERE seq = ${seq}`);
      insertCopy(db, 10, { seq: 11, hash: 'e'.repeat(64) });
    });
    expect(found.find(([at]) => at !== null)?.[0]).toBe(11);
  });
});

/** A copy of a row, with another place and hash, as one row of the table. */
function insertCopy(db: DatabaseSync, of: number, { seq, hash }: { seq: number; hash: string }): void {
  db.exec(`INSERT INTO entries SELECT ${seq}, session, kind, payload, wall_ms, offset_min, continuous_ms, boot, author,
    role, NULL, (SELECT hash FROM entries WHERE seq = ${seq - 1} UNION ALL SELECT prev_hash FROM entries LIMIT 1),
    '${hash}' FROM entries WHERE seq = ${of}`);
}

describe('what a chain alone cannot show, an anchor kept elsewhere does', () => {
  test('the tail cut at any place', () => {
    for (const { seq } of entries.slice(1)) {
      const cut = (db: DatabaseSync) => {
        db.exec(`DELETE FROM entries WHERE seq >= ${seq}`);
        db.exec('DELETE FROM sessions WHERE opened_seq NOT IN (SELECT seq FROM entries)');
      };
      expect(foundAfter(cut)).toStrictEqual([]);
      expect(foundAfter(cut, heldAnchor)).toStrictEqual([
        [entries.length, expect.stringMatching(new RegExp(`ends at ${seq - 1}: its tail was cut`))],
      ]);
    }
  });

  test('an entry changed and everything after it written anew, consistently', () => {
    for (const { seq } of entries.filter(({ kind }) => kind === 'reactions' || kind === 'review')) {
      const rewrite = (db: DatabaseSync) => rewriteFrom(db, seq);
      expect(foundAfter(rewrite)).toStrictEqual([]);
      expect(foundAfter(rewrite, heldAnchor)).toStrictEqual([
        [entries.length, 'not the entry that the anchor was taken of: rewritten since'],
      ]);
    }
  });

  test('another file altogether', () => {
    const other = heldAnchor.replace(/dimroom:[0-9a-f-]{36}/, 'dimroom:00000000-0000-4000-8000-000000000000');
    const beyond = other.replace(/:\d+:/, ':9999:');
    expect(verify(ledger.file, beyond).problems).toMatchObject([
      { seq: null, what: 'the anchor was taken of another file' },
    ]);
  });

  test('an anchor taken earlier still holds when entries were added since', () => {
    const [, , third] = entries;
    const earlier = heldAnchor.replace(/:\d+:[0-9a-f]{64}$/, `:${third?.seq}:${third?.hash}`);
    expect(verify(ledger.file, earlier).sound).toBe(true);
  });
});

/** An entry's wall time is moved by a minute, and the chain is made anew from there on: nothing contradicts itself. */
function rewriteFrom(db: DatabaseSync, fromSeq: number): void {
  let prevHash = entries[fromSeq - 2]?.hash ?? '';
  for (const entry of entries.slice(fromSeq - 1)) {
    const wallMs = entry.wallMs - (entry.seq === fromSeq ? 60_000 : 0);
    const { hash: _hash, ...body } = { ...entry, wallMs, prevHash };
    const hash = createHash('sha256')
      .update(`dimroom ledger entry 1\n${canonicalize(body)}`)
      .digest('hex');
    db.prepare('UPDATE entries SET wall_ms = ?, prev_hash = ?, hash = ? WHERE seq = ?').run(
      wallMs,
      prevHash,
      hash,
      entry.seq,
    );
    prevHash = hash;
  }
}

describe('the file around the entries', () => {
  test.each([
    [
      'a session made treatment',
      'UPDATE sessions SET practice = 0',
      /list of sessions has .* does not open as it says/,
    ],
    ['a session of another name', "UPDATE sessions SET id = 'nobody' WHERE opened_seq < 9", /is not in the list/],
    ['a session opened elsewhere', 'UPDATE sessions SET opened_seq = 7 WHERE opened_seq < 9', /is not in the list/],
    ['a session removed', 'DELETE FROM sessions WHERE opened_seq < 9', /is not in the list of sessions/],
    ['a session added', "INSERT INTO sessions VALUES ('nobody', 7, 1)", /nobody, which entry 7 does not open/],
    ['a table added', 'CREATE TABLE notes (words)', /has a "notes" of somebody else's/],
    ['a trigger added', 'CREATE TRIGGER t AFTER INSERT ON entries BEGIN SELECT 1; END', /has a "t" of somebody else's/],
    ['a view added', 'CREATE VIEW v AS SELECT 1', /has a "v" of somebody else's/],
    ['an index removed', 'DROP INDEX entries_by_session', /"entries_by_session" is gone/],
    ['another version', 'PRAGMA user_version = 9', /says that it is of version 9/],
    ['no version', 'PRAGMA user_version = 0', /somebody else's/],
    ['another mark', 'PRAGMA application_id = 1', /mark was changed/],
  ])('%s', (_name, sql, words) => {
    const found = foundAfter(run(sql));
    expect(found.map(([, what]) => what).join('\n')).toMatch(words);
  });

  test('each guard missing, or bent to guard nothing', () => {
    for (const name of GUARDS) {
      const file = ledger.copy();
      const gone = withoutTrigger(file, name);
      expect(verify(file, null).problems.map(({ what }) => what)).toStrictEqual([`the file's "${name}" is gone`]);
      gone.bend();
      expect(verify(file, null).problems.map(({ what }) => what)).toStrictEqual([`the file's "${name}" was changed`]);
    }
  });
});

const GUARDS = [
  'entries_stay',
  'entries_are_kept',
  'entries_are_added_last',
  'sessions_stay',
  'sessions_are_kept',
  'sessions_are_new',
];

function withoutTrigger(file: string, name: string): { bend(): void } {
  const plainly = (sql: string): void => {
    const db = new DatabaseSync(file);
    db.exec(sql);
    db.close();
  };
  plainly(`DROP TRIGGER ${name}`);
  const table = name.startsWith('entries') ? 'entries' : 'sessions';
  return { bend: () => plainly(`CREATE TRIGGER ${name} BEFORE UPDATE ON ${table} BEGIN SELECT 1; END`) };
}
