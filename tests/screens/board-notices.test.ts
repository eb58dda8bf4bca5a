import { describe, expect, test } from 'vitest';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { PROTOCOL, type Snapshot } from '../../core/protocol/messages.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { boardNotices } from '../../renderer/board/notices.ts';
import { beamOn, infusing, momentAt, planned, prepared, ring, T0_AT_MS, waiting } from '../session-steps.ts';

const AT_MS = T0_AT_MS + 240_000;

const viewAt = (session: Session, atMs = AT_MS): SessionView => viewOf(ring(session, atMs).context, 1, momentAt(atMs));

const other = (session: Session, atMs = AT_MS): SessionView => ({
  ...viewAt(session, atMs),
  sessionId: 'session-two',
  patient: { patientCode: 'K-2042', birthDate: '1950-01-01' },
});

function noticesFor(sessions: SessionView[], { atMs = AT_MS, silent = false, trouble = null as string | null } = {}) {
  const { continuousMs, wallMs, offsetMin, boot } = momentAt(atMs);
  const snapshot: Snapshot = {
    ...{ type: 'snapshot', protocol: PROTOCOL, nowMs: continuousMs, wallMs, offsetMin, boot },
    ...{ rate: 1, practice: false, written: null, sessions, front: 'session-one' },
  };
  const front = sessions.find(({ sessionId }) => sessionId === 'session-one') ?? null;
  return boardNotices({ snapshot, front, silent, trouble, nowMs: atMs }).map(({ words }) => words);
}

test('with the station heard and one session there is nothing to say', () => {
  expect(noticesFor([viewAt(infusing())])).toEqual([]);
});

describe('without word from the station', () => {
  test('the board says since when, and that it counts on', () => {
    expect(noticesFor([viewAt(infusing())], { silent: true })).toEqual([
      'no word from the station since 10:14:00 · counting on by itself',
    ]);
  });

  test('where nothing is counted it does not claim to count', () => {
    expect(noticesFor([viewAt(planned())], { silent: true })).toEqual(['no word from the station since 10:14:00']);
    expect(boardNotices({ snapshot: null, front: null, silent: true, trouble: null, nowMs: 0 })).toEqual([
      { shape: 'broken line', words: 'no word from the station yet' },
    ]);
  });

  test('what is known of the trouble is said', () => {
    expect(noticesFor([viewAt(infusing())], { trouble: 'the ledger is full' })).toEqual(['the ledger is full']);
  });
});

describe('of another session', () => {
  const front = viewAt(planned());

  test('a running infusion is told with the count that matters', () => {
    expect(noticesFor([front, other(infusing())])).toEqual(['K-2042: 11:00 to the light window']);
  });

  test('running light is told with what is left of it', () => {
    const atMs = T0_AT_MS + 900_000 + 36_000;
    expect(noticesFor([front, other(beamOn(), atMs)], { atMs })).toEqual(['K-2042: 0:47 light left']);
  });

  test('an open window counts up', () => {
    const atMs = T0_AT_MS + 910_000;
    expect(noticesFor([front, other(waiting(), atMs)], { atMs })).toEqual(['K-2042: light window is open +0:10']);
  });

  test('a drug that is to be used within 2 min is told, one with more time is not', () => {
    const made = other(prepared());
    const dueAtMs = made.timers.find(({ name }) => name === 'drug in use')?.dueAtMs ?? 0;
    expect(noticesFor([front, made], { atMs: dueAtMs - 121_000 })).toEqual([]);
    expect(noticesFor([front, made], { atMs: dueAtMs - 100_000 })).toEqual(['K-2042: drug in use, 1:40 left']);
  });

  test('of several the one that is due first is told, and that there are more', () => {
    const third = { ...other(waiting(), AT_MS + 500_000), sessionId: 'session-three' };
    const first = { ...other(infusing()), patient: { patientCode: 'K-2043', birthDate: '1950-01-01' } };
    const atMs = AT_MS + 500_000;
    const late = { ...first, board: { ...first.board, main: dueAt(atMs + 30_000) } };
    expect(noticesFor([front, third, late], { atMs })).toEqual(['K-2043: 0:30 to the light window · and 1 more']);
  });
});

const dueAt = (dueAtMs: number): SessionView['board']['main'] => ({
  kind: 'left',
  eye: null,
  dueAtMs,
  leftMs: null,
  words: 'to the light window',
  pastWords: 'light window is open',
});

test('times that were re-based after a restart are to be checked against a watch', () => {
  expect(noticesFor([{ ...viewAt(infusing()), rebased: true }])).toEqual([
    'times re-based after a restart: check against a watch',
  ]);
});
