import { describe, expect, test } from 'vitest';
import { cuesOf } from '../../core/procedure/cues.ts';
import { brokenAt, entriesIn, kindsIn } from './independent-reading.ts';
import { newFolder, newRequestId, type StationUnderTest, startFaultable, startStation } from './station-under-test.ts';
import { entered, NURSE, open, refused, requestOf, TREATMENT, treat, upTo } from './treatment.ts';

/** A station whose clock is moved by hand, with a session that has come to a step. */
async function stationAt(kind: Parameters<typeof upTo>[0], data = newFolder()) {
  const station = await startStation(data, '--practice', '--stepped');
  const { sessionId } = await open(station);
  for (const step of upTo(kind)) {
    await station.advanceTo(step.atS * 1000);
    await treat(station, sessionId, [step]);
  }
  return { station, sessionId };
}

const cuesIn = (station: StationUnderTest, sessionId: string) => cuesOf(station.view(sessionId));

const said = (sessionId: string, cue: string, dueAtMs: number, outcome = 'sounded', lateMs = 0) => ({
  type: 'cue',
  requestId: newRequestId(),
  sessionId,
  cue,
  dueAtMs,
  outcome,
  lateMs,
});

const told = (station: StationUnderTest) => entriesIn(station.database).filter(({ kind }) => kind === 'cue-sounded');

/** The first cue of a kind, and the station when it is due. */
async function atCue(id: string) {
  const { station, sessionId } = await stationAt('start-pump');
  const cue = cuesIn(station, sessionId).find((one) => one.id === id);
  if (cue === undefined) throw new Error(`no cue "${id}" is awaited`);
  await station.advanceTo(cue.dueAtMs);
  return { station, sessionId, cue };
}

describe('what became of a cue', () => {
  test('is entered by the station, in plain words, and answered', async () => {
    const { station, sessionId, cue } = await atCue('infusion-end');
    const reply = entered(await station.ask(said(sessionId, cue.id, cue.dueAtMs)));
    const [entry] = told(station);
    expect(entry).toMatchObject({
      seq: reply.seq,
      sessionId,
      payload: { cue: 'infusion-end', dueAtMs: cue.dueAtMs, outcome: 'sounded', lateMs: 0 },
      author: { initials: 'station', role: 'station' },
    });
    const page = await station.ask({ type: 'entries', requestId: newRequestId(), sessionId, after: 0, limit: 500 });
    const words = page.type === 'entries' ? page.rows.at(-1)?.words : '';
    expect(words).toBe('cue sounded: infusion at its end: pump off');
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });

  test.each([
    ['late', 2300, 'cue sounded 2.3 s late: light window in 2 min'],
    ['silent', 0, 'cue not sounded: light window in 2 min'],
  ])('%s is told as such', async (outcome, lateMs, words) => {
    const { station, sessionId, cue } = await atCue('light-window-2min');
    await station.ask(said(sessionId, cue.id, cue.dueAtMs, outcome, lateMs));
    const page = await station.ask({ type: 'entries', requestId: newRequestId(), sessionId, after: 0, limit: 500 });
    expect(page.type === 'entries' ? page.rows.at(-1)?.words : '').toBe(words);
  });

  test('comes after the entry of the instant itself, even where it arrives before the clock was looked at', async () => {
    const station = await startFaultable(newFolder());
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('start-pump'));
    const cue = cuesIn(station, sessionId).find(({ id }) => id === 'infusion-end');
    const dueAtMs = cue?.dueAtMs ?? 0;
    const { nowMs } = await station.look();
    const machine = station.machine();
    station.frame({ machine: { ...machine, awakeMs: machine.awakeMs + dueAtMs - nowMs + 10 }, token: 0 });
    entered(await station.ask(said(sessionId, 'infusion-end', dueAtMs)));
    expect(kindsIn(station.database, sessionId).slice(-2)).toStrictEqual(['infusion-due', 'cue-sounded']);
  });

  test('is entered once for one instant, whatever two windows say, and once for each repeat', async () => {
    const { station, sessionId, cue } = await atCue('infusion-end');
    await station.ask(said(sessionId, cue.id, cue.dueAtMs));
    expect(await station.answers(said(sessionId, cue.id, cue.dueAtMs, 'silent'))).toStrictEqual([]);
    expect(await station.answers(said(sessionId, cue.id, cue.dueAtMs + 49))).toStrictEqual([]);
    await station.advanceTo(cue.dueAtMs + 15_000);
    entered(await station.ask(said(sessionId, cue.id, cue.dueAtMs + 15_000)));
    expect(told(station).map(({ payload }) => payload.dueAtMs)).toStrictEqual([cue.dueAtMs, cue.dueAtMs + 15_000]);
  });

  test("is entered at the session's own instant where a window reckons a little otherwise", async () => {
    const { station, sessionId, cue } = await atCue('infusion-end');
    await station.ask(said(sessionId, cue.id, cue.dueAtMs - 20.25));
    expect(told(station)[0]?.payload.dueAtMs).toBe(cue.dueAtMs);
  });

  test('takes the cue from what the screens are to sound', async () => {
    const { station, sessionId, cue } = await atCue('infusion-end');
    await station.ask(said(sessionId, cue.id, cue.dueAtMs));
    await station.look();
    expect(cuesIn(station, sessionId).find((one) => one.id === 'infusion-end')?.dueAtMs).toBe(cue.dueAtMs + 15_000);
  });

  test('may be told a moment after the step that answered it', async () => {
    const { station, sessionId, cue } = await atCue('infusion-end');
    await treat(station, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'begin-flush' } }]);
    entered(await station.ask(said(sessionId, cue.id, cue.dueAtMs)));
  });

  test('and the same after the light: the beam is off, the report of its end comes later', async () => {
    const { station, sessionId } = await stationAt('beam-on');
    const end = cuesIn(station, sessionId).find(({ id }) => id === 'exposure-end');
    await station.advanceTo(end?.dueAtMs ?? 0);
    await treat(station, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'beam-off', endedByLaser: true } }]);
    entered(await station.ask(said(sessionId, 'exposure-end', end?.dueAtMs ?? 0)));
  });
});

describe('nothing is entered and nothing answered', () => {
  test('of an instant the session never had, of one still to come, of a session that is not there', async () => {
    const { station, sessionId, cue } = await atCue('infusion-end');
    const entries = kindsIn(station.database).length;
    for (const report of [
      said(sessionId, cue.id, cue.dueAtMs + 51),
      said(sessionId, cue.id, cue.dueAtMs - 600_000),
      said(sessionId, cue.id, cue.dueAtMs + 15_000),
      said(sessionId, 'second-eye-limit', cue.dueAtMs),
      said(sessionId, 'exposure-end', cue.dueAtMs),
      said('no-such-session', cue.id, cue.dueAtMs),
    ]) {
      expect(await station.answers(report)).toStrictEqual([]);
    }
    expect(kindsIn(station.database)).toHaveLength(entries);
  });

  test('of a session that is discharged', async () => {
    const { station, sessionId } = await stationAt('discharge');
    const opensAtMs = station.view(sessionId).course?.lightDueAtMs ?? 0;
    expect(await station.answers(said(sessionId, 'light-window-open', opensAtMs))).toStrictEqual([]);
  });

  test('and what is not a cue, an outcome, a lateness or an instant is refused as not understood', async () => {
    const station = await startStation(newFolder());
    const { sessionId } = await open(station);
    for (const wrong of [{ cue: 'lunch' }, { outcome: 'heard' }, { lateMs: -1 }, { dueAtMs: null }]) {
      const reply = await station.ask({ ...said(sessionId, 'infusion-end', 1000), ...wrong });
      expect(reply).toMatchObject({ type: 'error', says: expect.stringMatching(/^not understood/) });
    }
  });
});

test("a report of a cue does not make a person's press stale", async () => {
  const { station, sessionId, cue } = await atCue('infusion-end');
  const press = requestOf(station, sessionId, { by: NURSE, command: { kind: 'begin-flush' } });
  await station.ask(said(sessionId, cue.id, cue.dueAtMs));
  entered(await station.ask(press));
});

describe('a repeating cue that is hushed', () => {
  const hush = { by: NURSE, command: { kind: 'cue-heard', cue: 'infusion-end' } } as const;

  test('is an entry by the person who heard it, and is repeated no more', async () => {
    const { station, sessionId } = await atCue('infusion-end');
    await station.look();
    expect(station.view(sessionId).hushable).toStrictEqual([
      { cue: 'infusion-end', words: 'infusion at its end: pump off' },
    ]);
    entered(await station.ask(requestOf(station, sessionId, hush)));
    await station.look();
    expect(station.view(sessionId).hushable).toStrictEqual([]);
    expect(cuesIn(station, sessionId).map(({ id }) => id)).not.toContain('infusion-end');
    const entry = entriesIn(station.database).findLast(({ kind }) => kind === 'cue-heard');
    expect(entry).toMatchObject({ author: NURSE, payload: { cue: 'infusion-end' } });
  });

  test('cannot be hushed before it sounds', async () => {
    const { station, sessionId } = await stationAt('start-pump');
    const reply = refused(await station.ask(requestOf(station, sessionId, hush)));
    expect(reply.missing.map(({ text }) => text)).toStrictEqual(['no cue is being repeated, so there is none to hush']);
  });

  test('and what became of cues are still known when the station has started anew', async () => {
    const data = newFolder();
    const { station, sessionId } = await stationAt('start-pump', data);
    const cue = cuesIn(station, sessionId).find(({ id }) => id === 'infusion-end');
    await station.advanceTo(cue?.dueAtMs ?? 0);
    await station.ask(said(sessionId, 'infusion-end', cue?.dueAtMs ?? 0));
    entered(await station.ask(requestOf(station, sessionId, hush)));
    const before = station.view(sessionId).cues;
    await station.stop();
    const again = await startStation(data, '--practice', '--stepped');
    await again.look();
    const seen = (cues: typeof before) => cues.map(({ cue: id, words }) => [id, words]);
    expect(seen(again.view(sessionId).cues)).toStrictEqual(seen(before));
    expect(kindsIn(again.database, sessionId).filter((kind) => kind.startsWith('cue-'))).toStrictEqual([
      'cue-sounded',
      'cue-heard',
    ]);
  });
});

test('a whole treatment with every cue told of ends discharged, its chain whole', async () => {
  const station = await startStation(newFolder(), '--practice', '--stepped');
  const { sessionId } = await open(station);
  for (const step of TREATMENT) {
    await station.advanceTo(step.atS * 1000);
    const now = station.latest().nowMs;
    for (const cue of cuesIn(station, sessionId).filter(({ dueAtMs }) => dueAtMs <= now)) {
      await station.answers(said(sessionId, cue.id, cue.dueAtMs));
    }
    await treat(station, sessionId, [step]);
  }
  expect(station.view(sessionId).state).toBe('discharged');
  expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  expect(new Set(told(station).map(({ payload }) => payload.cue))).toStrictEqual(
    new Set([
      'infusion-end',
      'flush-end',
      'light-window-2min',
      'light-window-1min',
      'light-window-open',
      'exposure-end',
    ]),
  );
});
