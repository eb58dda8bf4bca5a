import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { expectCounting } from '../screens/count-check.ts';
import type { Nurse } from '../screens/nurse.ts';
import { beginRoster, PIN } from '../screens/people/clinic-people.ts';
import { signedInNurseAt } from '../screens/signed-in-nurse.ts';
import { plan, prepare } from '../screens/whole-session.ts';
import { brokenAt, entriesIn } from '../station/independent-reading.ts';
import { type Desktop, desktopInEarnest, HAS_DESKTOP } from './desktop.ts';

const LONG = { timeout: 180_000 };

describe.skipIf(!HAS_DESKTOP)('a clinic’s people on the desktop', () => {
  let desk: Desktop;
  let nurse: Nurse;

  beforeAll(async () => {
    desk = await desktopInEarnest();
    nurse = signedInNurseAt(desk.console, PIN);
  });
  afterAll(() => desk?.stop());

  const head = () => desk.console.locator('.head');
  const entries = () => entriesIn(desk.ledgerFile);
  const kinds = (): string[] => entries().map(({ kind }) => kind);

  test('the first run makes the administrator, and the administrator the others', LONG, async () => {
    await beginRoster(nurse);
    await expectShown(head()).toContainText('AD, administrator');
  });

  test('a treatment is planned and begun by them, each entry by who was signed in', LONG, async () => {
    await plan(nurse);
    await prepare(nurse);
    await nurse.wayOn('pump on: both timers start');
    await nurse.stateIs('infusing');
    const by = (kind: string) => entries().find((entry) => entry.kind === kind)?.author;
    expect(by('open-session')).toEqual({ initials: 'MO', role: 'nurse' });
    expect(by('second-check')).toEqual({ initials: 'TK', role: 'nurse' });
    expect(by('start-pump')).toEqual({ initials: 'MO', role: 'nurse' });
  });

  test('hands change while both screens count', LONG, async () => {
    await nurse.signIn('RV', 'operator');
    await expectShown(head()).toContainText('RV, operator');
    await nurse.stateIs('infusing');
    for (const page of pages(desk)) await expectCounting(page);
  });

  test(
    'the board is nobody’s: what is sent from it by another’s initials is refused and changes nothing',
    LONG,
    async () => {
      const { board } = desk;
      if (board === null) return;
      const before = kinds();
      const last = entries().at(-1);
      for (const role of ['nurse', 'administrator'] as const) {
        const by = { initials: role === 'nurse' ? 'MO' : 'AD', role };
        const message = {
          type: 'command',
          sessionId: last?.sessionId ?? sessionOf(desk),
          seq: Number.MAX_SAFE_INTEGER,
          by,
        };
        const answer = await askFrom(board, { ...message, command: { kind: 'begin-flush' } });
        expect(answer).toMatchObject({ type: 'refused', missing: [{ text: expect.stringMatching(/signed in here/) }] });
      }
      expect(kinds()).toEqual(before);
      await nurse.stateIs('infusing');
    },
  );

  test('nor does the operator’s console take what is the nurse’s', LONG, async () => {
    const before = kinds();
    const message = { type: 'command', sessionId: sessionOf(desk), seq: Number.MAX_SAFE_INTEGER };
    const by = { initials: 'MO', role: 'nurse' };
    const answer = await askFrom(desk.console, { ...message, by, command: { kind: 'begin-flush' } });
    expect(answer).toMatchObject({ type: 'refused', missing: [{ text: expect.stringMatching(/signed in here/) }] });
    expect(kinds()).toEqual(before);
  });

  test('started again, it counts on, and is nobody’s until somebody signs in', LONG, async () => {
    await desk.close();
    desk = await desktopInEarnest(desk.folder);
    nurse = signedInNurseAt(desk.console, PIN);
    await nurse.stateIs('infusing');
    await expectShown(head()).toContainText('no hands signed in');
    for (const page of pages(desk)) await expectCounting(page);
    await nurse.pressUntil('w', nurse.form);
    await nurse.type({ initials: 'mo', PIN: '111229' });
    await nurse.press('Enter');
    await expectShown(nurse.form).toContainText('do not belong together');
    await nurse.type({ PIN: PIN.MO });
    await nurse.enter();
    await expectShown(head()).toContainText('MO, nurse');
    expect(brokenAt(entries())).toEqual([]);
  });

  test('no PIN is in anything that was kept', async () => {
    await desk.close();
    const files = readdirSync(desk.folder, { recursive: true, encoding: 'utf8' })
      .map((name) => join(desk.folder, name))
      .filter((path) => statSync(path).isFile());
    expect(files.map((path) => path.slice(desk.folder.length + 1))).toContain('people.json');
    // In a file of the browser's own six digits come about by chance: only ours are judged, and what was logged.
    const ours = files.filter((path) => /\.(?:sqlite3(?:-wal)?|json|log|txt|jsonl)$/.test(path));
    for (const path of ours) {
      const text = readFileSync(path, 'latin1');
      for (const pin of [...Object.values(PIN), '111229']) expect(text.includes(pin), `${pin} in ${path}`).toBe(false);
    }
  });
});

const pages = ({ console: console_, board }: Desktop): Page[] => [console_, ...(board === null ? [] : [board])];

const sessionOf = ({ ledgerFile }: Desktop): string =>
  entriesIn(ledgerFile).find(({ kind }) => kind === 'open-session')?.sessionId ?? '';

/** What the station answers to a message that a window's own link sends. */
function askFrom(page: Page, message: object): Promise<unknown> {
  return page.evaluate((sent) => {
    const requestId = crypto.randomUUID();
    return new Promise((answered) => {
      window.dimroom?.onMessage((heard) => {
        if ((heard as { requestId?: string }).requestId === requestId) answered(heard);
      });
      window.dimroom?.send({ ...sent, requestId });
    });
  }, message);
}
