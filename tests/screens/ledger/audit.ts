import { readFileSync } from 'node:fs';
import { expect as expectShown } from 'playwright/test';
import { expect } from 'vitest';
import { ledgerCommand } from '../../ledger/ledger-command.ts';
import { entriesIn } from '../../station/independent-reading.ts';
import { LATE } from './audited-ledger.ts';
import type { Auditor } from './auditor.ts';

const SOON = { timeout: 60_000 };

/**
 * An audit by the keyboard alone: last month's late starts of light are found, one is read and reasoned about, the
 * ledger is verified, the session is exported in three forms, and an addendum is written to the entry in question.
 * `file` is the ledger, for somebody else to read afterwards.
 */
export async function audit(auditor: Auditor, file: string): Promise<void> {
  await findLateStarts(auditor);
  const seq = await readWhy(auditor);
  await exportThree(auditor);
  await writeAddendum(auditor, file, seq);
  await verifyLedger(auditor, file);
}

async function findLateStarts({ press, sees, sessions }: Auditor): Promise<void> {
  await expectShown(sessions).toHaveCount(6, SOON);
  await press('f');
  await press('1');
  await expectShown(sessions).toHaveCount(2, SOON);
  await sees('2 sessions');
  await sees(/light begun late/);
  await expectShown(sessions.first()).toContainText(LATE.patientCode);
  await expectShown(sessions.first()).toContainText('light +1:0');
  await expectShown(sessions.last()).toContainText('K-2093');
  await expectShown(sessions.first()).toContainText('PRACTICE');
}

/** Gives the entry that the deviation points at. */
async function readWhy({ press, view, deviations, entries, here, page }: Auditor): Promise<number> {
  await press('Enter');
  await expectShown(entries).not.toHaveCount(0, SOON);
  await expectShown(view('deviations: 1')).toBeVisible(SOON);
  await press('2');
  await expectShown(page.getByRole('img', { name: /planned and as it went/ })).toBeVisible(SOON);
  await expectShown(page.getByRole('row', { name: /^light window light/ })).toContainText('after its opening');
  await press('3');
  await expectShown(deviations).toHaveCount(1);
  await expectShown(deviations.first()).toContainText(/light began 6\d s after its window opened/);
  await expectShown(deviations.first()).toContainText('limit 30 s');
  await expectShown(deviations.first()).toContainText('local practice');
  const seq = Number(/entry (\d+)/.exec((await deviations.first().textContent()) ?? '')?.[1]);
  await press('Enter');
  await expectShown(here).toContainText('beam on, right eye');
  await expectShown(here.locator('.row-seq')).toHaveText(String(seq));
  return seq;
}

async function exportThree({ press, exported, sees }: Auditor): Promise<void> {
  await press('e');
  const csv = await exported(2);
  expect(csv.name).toMatch(/^PRACTICE-K-3110-.*-entries\.csv$/);
  expect(readFileSync(csv.path, 'utf8').split('\r\n')[0]).toContain('seq');
  await sees(/entries\.csv is saved whole/);
  const json = await exported(3);
  await sees(/chain\.json is saved whole/);
  expect((await ledgerCommand('verify', json.path)).code).toBe(0);
  const fhir = await exported(4);
  await sees(/fhir\.json is saved whole/);
  expect(JSON.parse(readFileSync(fhir.path, 'utf8')).resourceType).toBe('Bundle');
  await press('Escape');
}

async function writeAddendum(
  { press, type, sees, entries, here, page }: Auditor,
  file: string,
  seq: number,
): Promise<void> {
  const { length } = entriesIn(file);
  await expectShown(here.locator('.row-seq')).toHaveText(String(seq), SOON);
  await press('a');
  await sees('who is at the keyboard?');
  await page.waitForTimeout(600);
  await type('au');
  await press('Tab');
  await press('4');
  await press('Enter');
  await sees(`addendum to entry ${seq}`);
  await page.waitForTimeout(600);
  await type('the laser was still warming up');
  await press('Tab');
  await type('asked the operator at the audit');
  await press('Enter');
  await expectShown(entries.last()).toContainText(`addendum to entry ${seq}: the laser was still warming up`, SOON);
  const written = entriesIn(file).slice(length);
  expect(written).toMatchObject([
    {
      kind: 'addendum',
      author: { initials: 'AU', role: 'auditor' },
      payload: { entrySeq: seq, reason: 'asked the operator at the audit' },
    },
  ]);
}

async function verifyLedger({ press, sees, sessions }: Auditor, file: string): Promise<void> {
  await press('Escape');
  await press('Backspace');
  await expectShown(sessions).toHaveCount(6, SOON);
  await press('v');
  const last = entriesIn(file).at(-1);
  await sees(new RegExp(`^\\s*sound: .* entries read, up to entry ${last?.seq}$`));
  await sees(last?.hash ?? '');
  await press('Escape');
  await expectShown(sessions).toHaveCount(6, SOON);
}
