import { expect, test } from 'vitest';
import type { Roster } from '../../core/people/roster.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { People, type PeopleLedger } from '../../electron/station/people/people.ts';
import { type Kept, NOTHING_KEPT } from '../../electron/station/people/people-file.ts';
import { receptionOf } from '../../electron/station/people/reception.ts';

const MINUTE_MS = 60_000;
const PIN = '284159';

async function reception() {
  let kept: Kept = NOTHING_KEPT;
  const entries: { kind: string; payload: Record<string, unknown>; by: string }[] = [];
  const told: { screen: string; message: Message }[] = [];
  const time = { nowMs: 0 };
  const enter: PeopleLedger['enter'] = (kind, payload, by) =>
    void entries.push({ kind, payload, by: by?.initials ?? 'station' });
  const people = new People({
    file: {
      path: 'in memory',
      read: () => kept,
      write: (now) => {
        kept = now;
      },
    },
    ledger: {
      roster: () => (entries.findLast(({ kind }) => kind === 'roster')?.payload.people as Roster | undefined) ?? null,
      enter,
    },
    wallMs: () => time.nowMs,
    cost: { n: 16, r: 1, p: 1 },
  });
  const desk = receptionOf({
    people,
    enter,
    nowMs: () => time.nowMs,
    idleMs: () => 15 * MINUTE_MS,
    tell: (screen, message) => void told.push({ screen, message }),
    onChanged: () => {},
  });
  const begin = { name: 'who administers', initials: 'AD', role: 'nurse', pin: PIN } as const;
  await desk.ask('console', { type: 'first-administrator', requestId: 'request-1', ...begin });
  const note = {
    type: 'open',
    requestId: 'request-2',
    by: { initials: 'AD', role: 'nurse' },
    command: { kind: 'open-session' },
  } as const;
  return { desk, time, told, entries, whyNot: () => desk.whyNot('console', note), note };
}

test('hands that do not move for as long as the site says are no longer there, and the ledger says so', async () => {
  const { desk, time, told, entries, whyNot } = await reception();
  time.nowMs += 15 * MINUTE_MS;
  desk.look();
  expect(whyNot()).toBeNull();
  time.nowMs += 1;
  desk.look();
  expect(whyNot()).toContain('sign in');
  expect(told.at(-1)).toMatchObject({ screen: 'console', message: { type: 'hands', hands: null } });
  expect(entries.at(-1)).toEqual({ kind: 'signed-out', payload: { why: 'idle' }, by: 'AD' });
});

test('a command, or a key at that screen, keeps them', async () => {
  const { desk, time, whyNot, note } = await reception();
  for (const moved of [note, { type: 'at-hand' } as const]) {
    time.nowMs += 14 * MINUTE_MS;
    desk.carriedOut('console', moved);
    desk.look();
    expect(whyNot()).toBeNull();
  }
});

test('keys at another screen do not', async () => {
  const { desk, time, whyNot } = await reception();
  time.nowMs += 14 * MINUTE_MS;
  desk.carriedOut('board', { type: 'at-hand' });
  time.nowMs += 2 * MINUTE_MS;
  desk.look();
  expect(whyNot()).toContain('sign in');
});

test('whoever signs out is out at once', async () => {
  const { desk, entries, whyNot } = await reception();
  await desk.ask('console', { type: 'sign-out', requestId: 'request-3', why: 'left' });
  expect(whyNot()).toContain('sign in');
  expect(entries.at(-1)?.kind).toBe('signed-out');
});

test('where initials are taken as typed, nobody signs in and everybody may', async () => {
  const ignore = (): void => {};
  const desk = receptionOf({
    people: null,
    enter: ignore,
    nowMs: () => 0,
    idleMs: () => 0,
    tell: ignore,
    onChanged: ignore,
  });
  expect(desk.whoMay()).toEqual({ kind: 'as typed' });
  const answer = await desk.ask('console', {
    type: 'sign-in',
    requestId: 'request-1',
    initials: 'AD',
    pin: PIN,
    as: 'hands',
  });
  expect(answer).toMatchObject({ type: 'error', says: expect.stringContaining('as typed') });
});
