import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Message } from '../../core/protocol/messages.ts';
import { entriesIn } from '../station/independent-reading.ts';
import {
  newFolder,
  newRequestId,
  roomFor,
  type ScreenUnderTest,
  type StationUnderTest,
  startWith,
} from '../station/station-under-test.ts';

const PIN = { AD: '284159', MO: '907163', OP: '553107', AU: '120498' } as const;
type Initials = keyof typeof PIN;
const ROLE = { AD: 'administrator', MO: 'nurse', OP: 'operator', AU: 'auditor' } as const;

const person = (initials: Initials) => ({ initials, role: ROLE[initials] });
const saysOf = (message: Message): string =>
  message.type === 'refused'
    ? (message.missing[0]?.text ?? '')
    : message.type === 'error'
      ? message.says
      : message.type;

const start = (folder: string): Promise<StationUnderTest> => startWith(roomFor(folder));

const signIn = (at: ScreenUnderTest, initials: Initials, as: 'hands' | 'second' = 'hands'): Promise<Message> =>
  at.ask({ type: 'sign-in', initials, pin: PIN[initials], as });

const opening = (initials: Initials) => ({ type: 'open', by: person(initials), command: { kind: 'open-session' } });

/** A station with a roster, its administrator, and one person of each further role. */
async function staffed(folder = newFolder()) {
  const station = await start(folder);
  const office = station.at('office');
  const begun = await office.ask({
    type: 'first-administrator',
    name: 'who administers',
    initials: 'AD',
    role: ROLE.AD,
    pin: PIN.AD,
  });
  expect(saysOf(begun)).toBe('people-done');
  for (const initials of ['MO', 'OP', 'AU'] as const) {
    const change = { change: 'join', name: `called ${initials}`, ...person(initials), administers: false };
    expect(saysOf(await office.ask({ type: 'change-roster', change, pin: PIN[initials] }))).toBe('people-done');
  }
  const code = begun.type === 'people-done' ? (begun.recoveryCode ?? '') : '';
  return { station, office, console: station.at('console'), board: station.at('board'), folder, code };
}

async function opened(station: StationUnderTest, at: ScreenUnderTest): Promise<string> {
  const answer = await at.ask(opening('MO'));
  if (answer.type !== 'entered') throw new Error(saysOf(answer));
  await station.look();
  return answer.sessionId;
}

const noteBy = (station: StationUnderTest, sessionId: string, initials: Initials) => ({
  type: 'command',
  sessionId,
  seq: station.view(sessionId).seq,
  by: person(initials),
  command: { kind: 'note', words: 'a word about the day' },
});

describe('a new ledger', () => {
  test('takes nothing but its first administrator', async () => {
    const station = await start(newFolder());
    const at = station.at('console');
    expect(station.latest().whoMay).toEqual({ kind: 'first run' });
    expect(saysOf(await at.ask(opening('MO')))).toContain('name its first administrator');
    expect(saysOf(await at.ask({ type: 'places' }))).toContain('name its first administrator');
    expect(entriesIn(station.database).map(({ kind }) => kind)).not.toContain('open-session');
  });

  test('has one first administrator, however many ask at once', async () => {
    const station = await start(newFolder());
    const ask = (initials: string, pin: string) =>
      station
        .at(`screen ${initials}`)
        .ask({ type: 'first-administrator', name: 'one of two', initials, role: 'nurse', pin });
    const answers = await Promise.all([ask('AA', '284159'), ask('BB', '907163')]);
    expect(answers.map(({ type }) => type).sort()).toEqual(['people-done', 'refused']);
    expect(entriesIn(station.database).filter(({ kind }) => kind === 'roster')).toHaveLength(1);
  });
});

describe('with a roster', () => {
  test('a command is entered under whoever is signed in at its screen, and under nobody else', async () => {
    const { station, console: at, board } = await staffed();
    expect(saysOf(await at.ask(opening('MO')))).toContain('sign in');
    expect(await signIn(at, 'MO')).toMatchObject({ type: 'hands', hands: { initials: 'MO', role: 'nurse' } });
    const sessionId = await opened(station, at);
    expect(saysOf(await at.ask(noteBy(station, sessionId, 'OP')))).toContain('OP is not signed in');
    expect(
      saysOf(await at.ask({ ...noteBy(station, sessionId, 'MO'), by: { initials: 'MO', role: 'physician' } })),
    ).toContain('MO is not signed in');
    expect(saysOf(await board.ask(noteBy(station, sessionId, 'MO')))).toContain('sign in');
    expect(await at.ask(noteBy(station, sessionId, 'MO'))).toMatchObject({ type: 'entered' });
    const notes = entriesIn(station.database).filter(({ kind }) => kind === 'note');
    expect(notes.map(({ author }) => author.initials)).toEqual(['MO']);
  });

  test('a role may not do what is not its work, and is told whose it is', async () => {
    const { station, console: at, folder: _ } = await staffed();
    await signIn(at, 'MO');
    const sessionId = await opened(station, at);
    await signIn(at, 'AU');
    expect(saysOf(await at.ask(noteBy(station, sessionId, 'AU')))).toContain('nurse, operator or physician');
    await signIn(at, 'OP');
    expect(saysOf(await at.ask(opening('OP')))).toContain('nurse or physician');
    expect(saysOf(await at.ask({ type: 'find', filter: {}, cursor: null, limit: 10 }))).toContain('auditor');
    const leave = { type: 'change-roster', change: { change: 'leave', personId: 'somebody-else' } };
    expect(saysOf(await at.ask(leave))).toContain('administrator');
    await signIn(at, 'AD');
    expect(saysOf(await at.ask({ type: 'entries', sessionId, after: 0, limit: 10 }))).toContain('auditor');
  });

  test('a screen where nobody is signed in gets the present and no session of another day', async () => {
    const { station, console: at, board } = await staffed();
    await signIn(at, 'MO');
    const sessionId = await opened(station, at);
    for (const asked of [
      { type: 'entries', sessionId, after: 0, limit: 10 },
      { type: 'find', filter: {}, cursor: null, limit: 10 },
      { type: 'reading', sessionId },
      { type: 'print', sessionId, sheet: 'plan sheet' },
      { type: 'places' },
      { type: 'verify', run: 'run-one-run', anchor: null },
    ])
      expect(saysOf(await board.ask(asked))).toContain('sign in');
  });

  test('hands change without leaving the session, and every entry keeps its own', async () => {
    const { station, console: at } = await staffed();
    await signIn(at, 'MO');
    const sessionId = await opened(station, at);
    await at.ask(noteBy(station, sessionId, 'MO'));
    await signIn(at, 'OP');
    await station.look();
    await at.ask(noteBy(station, sessionId, 'OP'));
    const entries = entriesIn(station.database);
    expect(entries.filter(({ kind }) => kind === 'note').map(({ author }) => author.initials)).toEqual(['MO', 'OP']);
    expect(entries.filter(({ kind }) => kind === 'signed-in').map(({ author }) => author.initials)).toEqual([
      'MO',
      'OP',
    ]);
  });

  test('a second person signs in for one second computation, and the hands stay', async () => {
    const { station, console: at } = await staffed();
    await signIn(at, 'MO');
    const sessionId = await opened(station, at);
    expect(await signIn(at, 'OP', 'second')).toMatchObject({ type: 'hands', hands: { initials: 'MO' } });
    expect(saysOf(await at.ask(noteBy(station, sessionId, 'OP')))).toContain('OP is not signed in');
    const check = {
      type: 'command',
      sessionId,
      seq: station.view(sessionId).seq,
      by: person('OP'),
      command: {
        kind: 'second-check',
        heightCm: 170,
        weightKg: 70,
        regimenId: 'label',
        lesions: [{ eye: 'right', gldUm: 4000 }],
      },
    };
    // It waits for what planning still lacks, not for a sign-in.
    expect(saysOf(await at.ask({ ...check, requestId: newRequestId() }))).not.toContain('sign');
    expect(saysOf(await at.ask({ ...check, requestId: newRequestId() }))).toContain('OP is not signed in');
    expect(await at.ask(noteBy(station, sessionId, 'MO'))).toMatchObject({ type: 'entered' });
  });

  test('a page that begins anew, or is gone, is nobody’s', async () => {
    const { station, console: at } = await staffed();
    await signIn(at, 'MO');
    station.frame({ screen: 'console', message: { type: 'hello', protocol: 1, screen: 'console' } });
    expect(saysOf(await at.ask(opening('MO')))).toContain('sign in');
    await signIn(at, 'MO');
    at.leave();
    expect(saysOf(await at.ask(opening('MO')))).toContain('sign in');
  });

  test('whoever leaves the roster is signed in nowhere', async () => {
    const { station, console: at, office } = await staffed();
    await signIn(at, 'MO');
    const { whoMay } = await station.look();
    const personId = whoMay.kind === 'roster' ? whoMay.people.find(({ initials }) => initials === 'MO')?.personId : '';
    await office.ask({ type: 'change-roster', change: { change: 'leave', personId } });
    expect(saysOf(await at.ask(opening('MO')))).toContain('sign in');
    expect(saysOf(await signIn(at, 'MO'))).toContain('do not belong together');
  });

  test('a station begun anew knows its roster, nobody signed in, and goes on counting wrong PINs', async () => {
    const { station, console: at, folder } = await staffed();
    await signIn(at, 'MO');
    for (let times = 0; times < 3; times += 1)
      await at.ask({ type: 'sign-in', initials: 'OP', pin: '444719', as: 'hands' });
    await station.kill();
    const again = await start(folder);
    const fresh = again.at('console');
    expect(saysOf(await fresh.ask(opening('MO')))).toContain('sign in');
    expect(saysOf(await signIn(fresh, 'OP'))).toContain('wait');
    expect(await signIn(fresh, 'MO')).toMatchObject({ type: 'hands' });
  });

  test('a sign-in that is sent again is looked at once', async () => {
    const { station, console: at } = await staffed();
    const wrong = { type: 'sign-in', requestId: newRequestId(), initials: 'OP', pin: '444719', as: 'hands' };
    await Promise.all([at.ask(wrong), at.ask(wrong), at.ask(wrong), at.ask(wrong)]);
    expect(entriesIn(station.database).filter(({ kind }) => kind === 'sign-in-refused')).toHaveLength(1);
  });

  test('no PIN and no recovery code is in any file, message or output of the station', async () => {
    const { station, console: at, folder, code, office } = await staffed();
    await signIn(at, 'MO');
    await at.ask({ type: 'sign-in', initials: 'OP', pin: '444719', as: 'hands' });
    await at.ask({ type: 'sign-in', initials: 'OP', pin: 'not a pin 553107', as: 'hands' });
    const told = JSON.stringify([
      at.heard,
      office.heard.filter(({ type }) => type !== 'people-done'),
      station.latest(),
    ]);
    const files = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'latin1'));
    expect(files.length).toBeGreaterThan(1);
    for (const secret of [...Object.values(PIN), '444719', code, code.replaceAll('-', '')])
      for (const text of [told, ...files]) expect(text).not.toContain(secret);
    await station.stop();
  });
});
