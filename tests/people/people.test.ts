import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { Roster } from '../../core/people/roster.ts';
import { People, type PeopleLedger } from '../../electron/station/people/people.ts';
import { PeopleUnreadable, peopleFile } from '../../electron/station/people/people-file.ts';

/** So little work that a test may look at hundreds; the real cost is the default. */
const CHEAP = { n: 16, r: 1, p: 1 };
const PIN = '284159';
const ADMIN = { name: 'the administrator', initials: 'AD', role: 'nurse' } as const;
const BY = { initials: 'AD', role: 'nurse' } as const;

function station(folder = newFolder(), { nowMs = 0, ledger = newLedger() } = {}) {
  const time = { nowMs };
  const file = peopleFile(join(folder, 'people.json'));
  const people = new People({ file, ledger, wallMs: () => time.nowMs, cost: CHEAP });
  return { people, time, folder, ledger, file };
}

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-people-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  return folder;
}

function newLedger() {
  const entries: { kind: string; payload: Record<string, unknown>; by: string }[] = [];
  const ledger: PeopleLedger = {
    roster: () => (entries.findLast(({ kind }) => kind === 'roster')?.payload.people as Roster | undefined) ?? null,
    enter: (kind, payload, by) => void entries.push({ kind, payload, by: by?.initials ?? 'station' }),
  };
  return { ...ledger, entries };
}

async function begun() {
  const one = station();
  const code = await one.people.begin(ADMIN, PIN);
  return { ...one, code };
}

describe('signing in', () => {
  test('initials and PIN belong together', async () => {
    const { people } = await begun();
    await expect(people.signIn('AD', PIN)).resolves.toMatchObject({ initials: 'AD', administers: true });
    await expect(people.signIn('AD', '284158')).rejects.toThrow('do not belong together');
  });

  test('initials nobody has are answered in the same words as a wrong PIN, also while they wait', async () => {
    const { people } = await begun();
    const answers = async (initials: string): Promise<string[]> => {
      const said: string[] = [];
      for (let times = 0; times < 5; times += 1)
        said.push(await people.signIn(initials, '907163').then(String, (error: Error) => error.message));
      return said;
    };
    expect(await answers('AD')).toEqual(await answers('ZZ'));
  });

  test('the third wrong one in a row has the right one wait too', async () => {
    const { people, time } = await begun();
    for (let times = 0; times < 3; times += 1) await expect(people.signIn('AD', '907163')).rejects.toThrow();
    await expect(people.signIn('AD', PIN)).rejects.toThrow('wait 30 s');
    time.nowMs += 30_000;
    await expect(people.signIn('AD', PIN)).resolves.toBeDefined();
  });

  test('a right one forgives those before it', async () => {
    const { people } = await begun();
    for (let round = 0; round < 4; round += 1) {
      for (let times = 0; times < 2; times += 1)
        await expect(people.signIn('AD', '907163')).rejects.toThrow('together');
      await expect(people.signIn('AD', PIN)).resolves.toBeDefined();
    }
  });

  test('a station begun anew goes on counting', async () => {
    const { people, folder, ledger } = await begun();
    for (let times = 0; times < 3; times += 1) await expect(people.signIn('AD', '907163')).rejects.toThrow();
    const again = station(folder, { ledger });
    await expect(again.people.signIn('AD', PIN)).rejects.toThrow('wait 30 s');
  });

  test('a station that is ended while it looks at a PIN has counted it', async () => {
    const { people, folder, ledger, file } = await begun();
    const looking = people.signIn('AD', '907163').catch(() => {});
    // The look itself is still under way: what is on disk now is what a kill would leave.
    await Promise.resolve();
    await Promise.resolve();
    expect(file.read().attempts.AD?.failures).toBe(1);
    await looking;
    expect(station(folder, { ledger }).file.read().attempts.AD?.failures).toBe(1);
  });

  test('many at once are counted like as many in a row', async () => {
    const { people, ledger } = await begun();
    const guesses = Array.from({ length: 50 }, (_, index) => people.signIn('AD', String(700_000 + index * 37)));
    const said = await Promise.allSettled(guesses);
    const looked = said.filter((one) => one.status === 'rejected' && String(one.reason).includes('together'));
    expect(looked).toHaveLength(3);
    expect(ledger.entries.filter(({ kind }) => kind === 'sign-in-refused')).toHaveLength(3);
  });

  test('somebody who has left signs in no more', async () => {
    const { people, ledger } = await begun();
    await people.change(
      { change: 'join', name: 'a nurse', initials: 'MO', role: 'nurse', administers: false },
      '907163',
      BY,
    );
    await expect(people.signIn('MO', '907163')).resolves.toBeDefined();
    const personId = ledger.roster()?.find(({ initials }) => initials === 'MO')?.personId ?? '';
    await people.change({ change: 'leave', personId }, undefined, BY);
    await expect(people.signIn('MO', '907163')).rejects.toThrow('together');
  });
});

describe('PINs', () => {
  test('an administrator gives a new one, and the old one is worth nothing', async () => {
    const { people, ledger } = await begun();
    const personId = ledger.roster()?.[0]?.personId ?? '';
    await people.givePin(personId, '907163', BY);
    await expect(people.signIn('AD', PIN)).rejects.toThrow('together');
    await expect(people.signIn('AD', '907163')).resolves.toBeDefined();
  });

  test('one changes one’s own against the present one', async () => {
    const { people } = await begun();
    await expect(people.ownPin(BY, '111222', '907163')).rejects.toThrow('together');
    await people.ownPin(BY, PIN, '907163');
    await expect(people.signIn('AD', '907163')).resolves.toBeDefined();
  });

  test('whoever joins is given one', async () => {
    const { people } = await begun();
    const change = { change: 'join', name: 'a nurse', initials: 'MO', role: 'nurse', administers: false } as const;
    await expect(people.change(change, undefined, BY)).rejects.toThrow('choose a first PIN');
  });

  test('no PIN and no code is in the file or in an entry, and the file is its owner’s alone', async () => {
    const { people, folder, ledger, code } = await begun();
    await people.signIn('AD', '907163').catch(() => {});
    const written = readFileSync(join(folder, 'people.json'), 'utf8') + JSON.stringify(ledger.entries);
    for (const secret of [PIN, '907163', code, code.replaceAll('-', '')]) expect(written).not.toContain(secret);
    expect(statSync(join(folder, 'people.json')).mode & 0o077).toBe(0);
  });

  test('the same PIN is kept differently for two people', async () => {
    const { people, file } = await begun();
    await people.change(
      { change: 'join', name: 'a nurse', initials: 'MO', role: 'nurse', administers: false },
      PIN,
      BY,
    );
    const hashes = Object.values(file.read().pins).map(({ hash }) => hash);
    expect(new Set(hashes).size).toBe(2);
  });
});

describe('the recovery code', () => {
  test('gives an administrator a new PIN, once, and is entered', async () => {
    const { people, code, ledger } = await begun();
    const next = await people.recover(code.toLowerCase(), 'AD', '907163');
    await expect(people.signIn('AD', '907163')).resolves.toBeDefined();
    expect(ledger.entries.at(-1)).toMatchObject({ kind: 'recovered', payload: { initials: 'AD' } });
    await expect(people.recover(code, 'AD', '284159')).rejects.toThrow('not the recovery code');
    await expect(people.recover(next, 'AD', '284159')).resolves.not.toBe(next);
  });

  test('guesses at it are counted like guesses at a PIN', async () => {
    const { people, code } = await begun();
    for (let times = 0; times < 3; times += 1)
      await expect(people.recover('AAAAA', 'AD', '907163')).rejects.toThrow('not the');
    await expect(people.recover(code, 'AD', '907163')).rejects.toThrow('wait 30 s');
  });

  test('helps nobody who does not administer', async () => {
    const { people, code } = await begun();
    await people.change(
      { change: 'join', name: 'a nurse', initials: 'MO', role: 'nurse', administers: false },
      PIN,
      BY,
    );
    await expect(people.recover(code, 'MO', '907163')).rejects.toThrow('no');
    await expect(people.signIn('MO', PIN)).resolves.toBeDefined();
  });
});

describe('the roster’s beginning', () => {
  test('is once', async () => {
    const { people } = await begun();
    await expect(people.begin({ ...ADMIN, initials: 'ZZ' }, '907163')).rejects.toThrow('sign in');
  });

  test('a ledger begun anew after damage is nobody’s to take: the roster comes from the file', async () => {
    const { folder } = await begun();
    const fresh = newLedger();
    const { people } = station(folder, { ledger: fresh });
    expect(fresh.entries).toEqual([expect.objectContaining({ kind: 'roster', by: 'station' })]);
    await expect(people.begin({ ...ADMIN, initials: 'ZZ' }, '907163')).rejects.toThrow('sign in');
    await expect(people.signIn('AD', PIN)).resolves.toBeDefined();
  });

  test.each(['{', '{"version": 2}', '[]'])(
    'a file that reads %j lets nobody in nor begin, and says what to do',
    async (text) => {
      const folder = newFolder();
      writeFileSync(join(folder, 'people.json'), text);
      const { people } = station(folder);
      expect(people.trouble()).toContain('put back a copy');
      expect(people.begun()).toBe(true);
      await expect(people.begin(ADMIN, PIN)).rejects.toThrow(PeopleUnreadable);
      await expect(people.signIn('AD', PIN)).rejects.toThrow(PeopleUnreadable);
    },
  );

  test('a copy that is put back lets people in again, without a new start', async () => {
    const { folder, people, file } = await begun();
    const good = readFileSync(file.path);
    writeFileSync(join(folder, 'people.json'), '{');
    await expect(people.signIn('AD', PIN)).rejects.toThrow('put back a copy');
    writeFileSync(join(folder, 'people.json'), good);
    await expect(people.signIn('AD', PIN)).resolves.toBeDefined();
  });
});
