import { createHash } from 'node:crypto';
import { existsSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import { type ExportWords, exportLedger } from '../../electron/auditing/export.ts';
import { anchor } from '../../electron/auditing/reports.ts';
import { chainExportIn, verifyExport } from '../../electron/auditing/verify-export.ts';
import { behindItsBack } from '../ledger/finished-ledger.ts';
import { ONE_EYE, type Step, stepsBefore, TWO_EYES } from '../session-steps.ts';
import { newFolder } from '../station/station-under-test.ts';
import { folderForAll, heldIn, inFolder, ledgerOf, textOf } from './ledger-of.ts';

const of = (patientCode: string, steps: readonly Step[]): Step[] =>
  steps.map((step) =>
    step.name === 'identify' ? { ...step, command: { kind: 'identify', patientCode, birthDate: '1944-07-19' } } : step,
  );

const TOLD = [
  { id: 'whole', steps: TWO_EYES },
  { id: 'under-way', steps: stepsBefore('beam-on') },
  { id: 'planned', steps: stepsBefore('second-check') },
  { id: 'of-another', steps: of('K-77', ONE_EYE) },
];

const file = ledgerOf(TOLD, folderForAll());

/** Exports; the ledger is as it was afterwards, whatever came of it. */
async function exported(words: ExportWords) {
  const before = heldIn(file);
  try {
    return await exportLedger(file, words);
  } finally {
    expect(heldIn(file)).toStrictEqual(before);
  }
}

const verified = (path: string, kept: string | null = null, against: string | null = null) =>
  verifyExport(path, chainExportIn(path), kept, against);

const tableIn = (path: string): Record<string, string>[] => parse(readFileSync(path), { columns: true });

describe('one session', () => {
  test.each([
    ['csv', (text: string) => parse(text).length > 20],
    ['json', (text: string) => JSON.parse(text).format === 'dimroom chain export 1'],
    ['fhir', (text: string) => JSON.parse(text).resourceType === 'Bundle'],
    ['pdf', (text: string) => text.startsWith('%PDF-1.7') && text.trimEnd().endsWith('%%EOF')],
  ])('as %s is one file, whole, for its owner alone, as its report says', async (as, isIt) => {
    const folder = newFolder();
    const out = join(folder, 'session');
    const { files } = await exported({ session: 'whole', as, out });
    const bytes = readFileSync(out);
    expect([inFolder(folder), isIt(bytes.toString('utf8'))]).toStrictEqual([['session'], true]);
    expect(files).toStrictEqual([
      { name: out, bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') },
    ]);
    if (process.platform !== 'win32') expect(statSync(out).mode & 0o777).toBe(0o600);
  });

  test('as JSON is sound by itself, by an anchor and against its ledger', async () => {
    const out = join(newFolder(), 'chain.json');
    await exported({ session: 'under-way', as: 'json', out, 'with-gaps': true });
    for (const report of [verified(out), verified(out, anchor(file).anchor), verified(out, null, file)]) {
      expect(report).toMatchObject({ sound: true, problems: [], sessions: 1 });
    }
  });

  test('as JSON that holds less than its ledger, or something else, is told apart from it', async () => {
    const out = join(newFolder(), 'chain.json');
    await exported({ session: 'whole', as: 'json', out });
    const value = JSON.parse(textOf(out));
    const note = value.entries.findIndex(({ kind }: { kind: string }) => kind === 'reactions');
    const { seq } = value.entries[note];
    value.entries[note].payload.words = 'another';
    expect(verifyExport(out, value, null, file).problems).toContainEqual({ seq, what: 'is not as the ledger has it' });
    value.entries.splice(note, 1);
    expect(verifyExport(out, value, null, file).problems).toContainEqual({
      seq,
      what: 'is in the ledger, and left out here',
    });
  });

  test('as JSON that is held against another ledger is not of it', async () => {
    const out = join(newFolder(), 'chain.json');
    await exported({ session: 'whole', as: 'json', out });
    const elsewhere = ledgerOf([{ id: 'whole', steps: ONE_EYE }], newFolder());
    expect(verified(out, null, elsewhere).problems).toContainEqual({
      seq: expect.any(Number),
      what: 'the ledger holds another entry at the head the export names',
    });
  });
});

describe('a patient', () => {
  test('as JSON is all of their sessions and nobody else’s, without what is withheld', async () => {
    const out = join(newFolder(), 'patient.json');
    const { withheld } = await exported({ patient: 'K-2041', as: 'json', out });
    expect(withheld).toStrictEqual([expect.stringMatching(/^session planned: .* withheld/)]);
    const { sessions, leftOut } = JSON.parse(textOf(out));
    expect(sessions.map((one: { sessionId: string }) => one.sessionId)).toStrictEqual(['whole', 'under-way']);
    expect(leftOut).toHaveLength(1);
    expect(textOf(out)).not.toMatch(/K-77|of-another/);
    expect(verified(out, null, file)).toMatchObject({ sound: true });
  });

  test('as a folder is the table, the chain, and each session in every form', async () => {
    const folder = newFolder();
    const out = join(folder, 'patient');
    await exported({ patient: 'K-2041', as: 'folder', out });
    expect(inFolder(folder)).toStrictEqual(['patient']);
    expect(inFolder(out)).toStrictEqual([
      'chain.json',
      'session-001-entries.csv',
      'session-001-fhir.json',
      'session-001-record.pdf',
      'session-002-entries.csv',
      'session-002-fhir.json',
      'session-002-record.pdf',
      'sessions.csv',
    ]);
    expect(tableIn(join(out, 'sessions.csv')).map(({ sessionId }) => sessionId)).toStrictEqual([
      'whole',
      'under-way',
      'planned',
    ]);
    for (const name of inFolder(out)) expect(textOf(join(out, name))).not.toMatch(/K-77/);
  });

  test('whose code was entered for somebody else first, and put right, has the session; the other has not', async () => {
    const [identify, ...rest] = stepsBefore('order');
    if (identify === undefined) throw new Error('a course begins with who it is');
    const wrong: Step = { ...identify, command: { kind: 'identify', patientCode: 'K-1', birthDate: '1950-05-05' } };
    const right: Step = { ...identify, atMs: identify.atMs + 1 };
    const righted = ledgerOf([{ id: 'righted', steps: [wrong, right, ...rest] }], newFolder());
    const asked = (patient: string) =>
      exportLedger(righted, { patient, as: 'sessions-csv', out: join(newFolder(), 'table.csv') });
    await expect(asked('K-1')).rejects.toThrow(/no session of patient K-1/);
    expect(await asked('K-2041')).toMatchObject({ sessions: 1 });
  });
});

test('all sessions are one table, a line each, in the order of opening', async () => {
  const out = join(newFolder(), 'sessions.csv');
  await exported({ all: true, out });
  expect(tableIn(out).map(({ sessionId }) => sessionId)).toStrictEqual(TOLD.map(({ id }) => id));
});

describe('what cannot be done is a sentence that says what to do, and no file', () => {
  const asked: [words: ExportWords, says: RegExp][] = [
    [{ session: 'nobody', as: 'csv' }, /there is no session nobody/],
    [{ session: 'planned', as: 'csv' }, /withheld until a second person/],
    [{ session: 'planned', as: 'json' }, /withheld until a second person/],
    [{ session: 'planned', as: 'fhir' }, /withheld until a second person/],
    [{ session: 'planned', as: 'pdf' }, /withheld until a second person/],
    [{ patient: 'K-0', as: 'json' }, /no session of patient K-0/],
    [{ session: 'whole', as: 'xml' }, /csv, json, fhir, pdf/],
    [{ session: 'whole' }, /csv, json, fhir, pdf/],
    [{ patient: 'K-2041', as: 'pdf' }, /json, folder, sessions-csv|json, folder or sessions-csv/],
    [{ all: true, as: 'pdf' }, /sessions-csv/],
    [{ all: true, 'with-gaps': true }, /a table has no chain/],
    [{ session: 'whole', all: true, as: 'csv' }, /one of --session/],
    [{ session: 'whole', as: 'csv', 'with-gaps': true }, /goes with --as json/],
    [{}, /say what to export/],
  ];
  test.each(asked)('%o', async (words, says) => {
    const folder = newFolder();
    await expect(exported({ ...words, out: join(folder, 'out') })).rejects.toThrow(says);
    expect(inFolder(folder)).toStrictEqual([]);
  });

  test('nowhere to write to, or nothing to read', async () => {
    await expect(exported({ all: true })).rejects.toThrow(/--out PATH/);
    const nowhere = join(newFolder(), 'nowhere', 'table.csv');
    await expect(exported({ all: true, out: nowhere })).rejects.toThrow(/there is no folder .*make it first/);
    const junk = join(newFolder(), 'junk.sqlite3');
    writeFileSync(junk, 'junk');
    const out = join(newFolder(), 'table.csv');
    await expect(exportLedger(junk, { all: true, out })).rejects.toThrow(/cannot be read as a ledger/);
    expect(existsSync(out)).toBe(false);
  });
});

describe('what is there already', () => {
  test('is not overwritten, unless that is asked for', async () => {
    const folder = newFolder();
    const out = join(folder, 'table.csv');
    writeFileSync(out, 'mine');
    await expect(exported({ all: true, out })).rejects.toThrow(/is there already: .*--replace/);
    expect(textOf(out)).toBe('mine');
    await exported({ all: true, out, replace: true });
    expect([inFolder(folder), tableIn(out).length]).toStrictEqual([['table.csv'], TOLD.length]);
  });

  test('and is a ledger is never overwritten, by whatever name it goes', async () => {
    const link = join(newFolder(), 'table.csv');
    symlinkSync(file, link);
    writeFileSync(`${file}-wal`, '', { flag: 'a' });
    for (const out of [file, link, `${file}-wal`]) {
      await expect(exported({ all: true, out, replace: true })).rejects.toThrow(/is a database/);
    }
  });

  test('and is a folder is never overwritten', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'theirs.txt'), 'theirs');
    const patient = exported({ patient: 'K-2041', as: 'folder', out: folder, replace: true });
    await expect(patient).rejects.toThrow(/is there already: .*none is replaced/);
    await expect(exported({ all: true, out: folder, replace: true })).rejects.toThrow(/is a folder/);
    expect(inFolder(folder)).toStrictEqual(['theirs.txt']);
  });
});

test('a ledger that is damaged is exported with what can be read, and each damage is named', async () => {
  const damaged = ledgerOf(TOLD, newFolder());
  behindItsBack(damaged, (db) =>
    db.exec(`UPDATE entries SET payload = '{"words":3}' WHERE kind = 'prime-line' AND session = 'whole';
             UPDATE entries SET author = '?' WHERE kind = 'drug' AND session = 'of-another'`),
  );
  const folder = newFolder();
  const asked = (words: ExportWords, name: string) => exportLedger(damaged, { ...words, out: join(folder, name) });
  expect((await asked({ all: true }, 'table.csv')).damaged).toStrictEqual([
    expect.stringMatching(/^session whole, entry \d+: /),
    expect.stringMatching(/^session of-another, entry \d+: /),
  ]);
  for (const as of ['csv', 'json', 'pdf']) {
    expect((await asked({ session: 'of-another', as }, as)).damaged).toHaveLength(1);
  }
  expect(verified(join(folder, 'json')).sound).toBe(false);
  await expect(asked({ session: 'whole', as: 'fhir' }, 'fhir')).rejects.toThrow(/cannot be read to its end/);
  expect(inFolder(folder)).toStrictEqual(['csv', 'json', 'pdf', 'table.csv']);
});

test('limits are those of the settings beside the ledger: others read the same session otherwise', async () => {
  const held = ledgerOf([{ id: 'whole', steps: ONE_EYE }], newFolder());
  const deviations = async (): Promise<string | undefined> => {
    const out = join(newFolder(), 'table.csv');
    await exportLedger(held, { all: true, out });
    return tableIn(out)[0]?.deviationIds;
  };
  expect(await deviations()).not.toContain('in-use');
  writeFileSync(join(dirname(held), 'settings.json'), JSON.stringify({ limits: { inUseMaxMin: 5 } }));
  expect(await deviations()).toContain('in-use');
});
