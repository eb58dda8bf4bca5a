import { describe, expect, test } from 'vitest';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { PROTOCOL, type Snapshot } from '../../core/protocol/messages.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { boardNotices } from '../../renderer/board/notices.ts';
import { beamOn, infusing, momentAt, planned, prepared, ring, T0_AT_MS, waiting } from '../session-steps.ts';

const AT_MS = T0_AT_MS + 240_000;

const viewAt = (session: Session, atMs = AT_MS): SessionView => viewOf(ring(session, atMs).context, 1, momentAt(atMs));

const other = (session: Session, atMs = AT_MS): SessionView => ({
  ...viewAt(session, atMs),
  sessionId: 'session-two',
  patient: { patientCode: 'K-2042', birthDate: '1950-01-01' },
});

interface Wrong {
  readonly atMs?: number;
  readonly silent?: boolean;
  readonly trouble?: string | null;
  readonly station?: Pick<Snapshot, 'trouble' | 'notYetSafe'>;
}

const NOTHING_WRONG: NonNullable<Wrong['station']> = { trouble: [], notYetSafe: null };

function noticesFor(sessions: SessionView[], wrong: Wrong = {}) {
  const { atMs = AT_MS, silent = false, trouble = null, station = NOTHING_WRONG } = wrong;
  const { continuousMs, wallMs, offsetMin, boot } = momentAt(atMs);
  const snapshot: Snapshot = {
    ...{ type: 'snapshot', protocol: PROTOCOL, nowMs: continuousMs, wallMs, offsetMin, boot },
    ...{
      rate: 1,
      practice: false,
      settings: DEFAULT_SETTINGS,
      regimens: [...REGIMENS],
      settingsSeq: 1,
      whoMay: { kind: 'as typed' },
    },
    ...{ ...station, written: null, sessions, front: 'session-one', guide: null },
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

describe('of the station', () => {
  const sinceWallMs = momentAt(AT_MS).wallMs;
  const notYetSafe = { entries: 3, sinceWallMs, why: 'the disk is full: make room', keptAt: null };
  const file = 'settings.json, line 3: there is no such field. The file is not used.';
  const front = viewAt(infusing());

  test('entries that are on no disk yet are told with their number and why', () => {
    expect(noticesFor([front], { station: { trouble: [], notYetSafe } })).toEqual([
      '3 entries are not yet safe: the disk is full: make room',
    ]);
    expect(noticesFor([front], { station: { trouble: [], notYetSafe: { ...notYetSafe, entries: 1 } } })).toEqual([
      '1 entry is not yet safe: the disk is full: make room',
    ]);
  });

  test('a file of the site that is not used is told', () => {
    expect(noticesFor([front], { station: { trouble: [file], notYetSafe: null } })).toEqual([file]);
  });

  test('all of it takes one line, the entries first', () => {
    expect(noticesFor([front], { station: { trouble: [file, file], notYetSafe } })).toEqual([
      '3 entries are not yet safe: the disk is full: make room · and 2 more',
    ]);
    const long = `${'/a/long/folder'.repeat(9)}/${file}`;
    const [line = ''] = noticesFor([front], { station: { trouble: [long], notYetSafe: null } });
    expect(line.length).toBeLessThan(80);
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
