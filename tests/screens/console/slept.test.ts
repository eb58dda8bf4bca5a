import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect as expectShown } from 'playwright/test';
import { describe, expect, test } from 'vitest';
import { steppedClock } from '../../../electron/station/clock.ts';
import { Desk } from '../../../electron/station/desk.ts';
import { emergencyFile } from '../../../electron/station/emergency-file.ts';
import { readHouse } from '../../../electron/station/house.ts';
import { ledgerStore } from '../../../electron/station/ledger.ts';
import { openDatabase } from '../../../electron/station/open-database.ts';
import { steadfastLedger } from '../../../electron/station/steadfast-ledger.ts';
import { entriesIn, kindsIn } from '../../station/independent-reading.ts';
import { NURSE, upTo } from '../../station/treatment.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { nurseAt } from '../nurse.ts';

const SLEPT_MS = 90_000;
const T0_MS = 600_000;

/** A ledger in which the machine slept in the middle of an infusion, and nobody has looked at the pump yet. */
function sleptLedger(): string {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-slept-'));
  const store = ledgerStore(openDatabase(join(folder, 'practice.sqlite3')));
  const clock = steppedClock(0, Date.now() - T0_MS - 120_000);
  const desk = new Desk(
    steadfastLedger(store, emergencyFile(join(folder, 'waiting.jsonl'))),
    clock,
    true,
    readHouse(folder),
  );
  desk.note('station-started', { first: true, file: crypto.randomUUID() });
  const opened = desk.open('opened-0001', NURSE);
  if (opened.type !== 'entered') throw new Error('no session was opened');
  for (const [index, { atS, by, command }] of upTo('start-pump').entries()) {
    clock.moveTo(atS * 1000);
    const answer = desk.command(`given-${index}-0001`, opened.sessionId, Number.MAX_SAFE_INTEGER, by, command);
    if (answer.type !== 'entered') throw new Error(`${command.kind}: ${JSON.stringify(answer)}`);
  }
  clock.moveTo(T0_MS + 110_000);
  desk.noteTime({ kind: 'slept', sleptMs: SLEPT_MS, byWallMs: SLEPT_MS, asleepMs: SLEPT_MS });
  store.close();
  return folder;
}

describe.skipIf(CHROMIUM === null)('the computer slept in the middle of an infusion', () => {
  const screens = carriedScreens(1, sleptLedger);

  test('the console asks for a look at the pump, and one key press enters what it did', async () => {
    const page = await screens.open('console');
    const nurse = nurseAt(page);
    await nurse.signIn('MO', 'nurse');
    await expectShown(page.getByText(/this computer slept for 90 s/).first()).toBeVisible();
    const looks = page.getByText(/look at the pump/).first();
    await expectShown(looks).toBeVisible();
    await nurse.pressUntil('1', nurse.form);
    await expectShown(nurse.form).toContainText('The light timer went on all the same.');
    await nurse.press('2');
    await nurse.enter();
    await expectShown.poll(() => kindsIn(screens.carrier().ledgerFile)).toContain('looked');
    const entry = entriesIn(screens.carrier().ledgerFile).find(({ kind }) => kind === 'looked');
    expect(entry).toMatchObject({ author: { initials: 'MO', role: 'nurse' }, payload: { pump: 'stood still' } });
    await expectShown(looks).toBeHidden();
    expect(screens.errors).toEqual([]);
  });
});
