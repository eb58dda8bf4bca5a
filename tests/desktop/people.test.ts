import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { expectCounting } from '../screens/count-check.ts';
import { type Nurse, nurseAt } from '../screens/nurse.ts';
import { ALL_NO, BODY, ORDER, prepare, SECOND_COMPUTATION } from '../screens/whole-session.ts';
import { brokenAt, entriesIn } from '../station/independent-reading.ts';
import { type Desktop, desktopInEarnest, HAS_DESKTOP } from './desktop.ts';

const PIN = { AD: '284159', MO: '907163', TK: '341886', RV: '775204' } as const;
type Initials = keyof typeof PIN;
const LONG = { timeout: 180_000 };

describe.skipIf(!HAS_DESKTOP)('a clinic’s people on the desktop', () => {
  let desk: Desktop;
  let nurse: Nurse;

  beforeAll(async () => {
    desk = await desktopInEarnest();
    nurse = nurseAt(desk.console);
  });
  afterAll(() => desk?.stop());

  const head = () => desk.console.locator('.head');
  const entries = () => entriesIn(desk.ledgerFile);
  const kinds = (): string[] => entries().map(({ kind }) => kind);
  const signIn = (initials: Initials): Promise<void> => nurse.tell('w', { initials, PIN: PIN[initials] });

  async function joins(name: string, initials: Initials, role: string): Promise<void> {
    await nurse.pressUntil('n', nurse.form);
    await nurse.tell('n', { name, initials, role, PIN: PIN[initials], 'PIN again': PIN[initials] });
    await desk.console.getByRole('region', { name: 'people' }).getByText(name).waitFor();
  }

  test('the first run makes the administrator, and the administrator the others', LONG, async () => {
    await nurse.look();
    await nurse.pressUntil('Enter', nurse.form);
    await nurse.type({ name: 'Ada Example', initials: 'AD', role: '5', PIN: PIN.AD, 'PIN again': PIN.AD });
    await nurse.enter();
    await desk.console.getByRole('region', { name: 'recovery code' }).waitFor();
    await nurse.press('Enter');
    await expectShown(head()).toContainText('AD, administrator');
    await nurse.press('u');
    await joins('Mo Example', 'MO', '1');
    await joins('Tam Example', 'TK', '1');
    await joins('Ruh Example', 'RV', '2');
    await nurse.press('Escape');
  });

  test('a treatment is planned and begun by them, each entry by who was signed in', LONG, async () => {
    await signIn('MO');
    await nurse.wayOn('open a session');
    await nurse.taskWith(1, { 'patient code': 'K-2041', 'day of birth': '1951-03-02' });
    await nurse.task(2);
    await nurse.taskWith(3, ORDER);
    await nurse.taskWith(4, ALL_NO);
    await nurse.taskWith(5, BODY);
    const { 'other initials': initials, 'other role': _role, ...computed } = SECOND_COMPUTATION;
    await nurse.taskWith(6, { 'other initials': initials ?? '', 'other PIN': PIN.TK, ...computed });
    await prepare(nurse);
    await nurse.wayOn('pump on: both timers start');
    await nurse.stateIs('infusing');
    const by = (kind: string) => entries().find((entry) => entry.kind === kind)?.author;
    expect(by('open-session')).toEqual({ initials: 'MO', role: 'nurse' });
    expect(by('second-check')).toEqual({ initials: 'TK', role: 'nurse' });
    expect(by('start-pump')).toEqual({ initials: 'MO', role: 'nurse' });
  });

  test('hands change while both screens count', LONG, async () => {
    await signIn('RV');
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
    nurse = nurseAt(desk.console);
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
