import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { brokenAt, entriesIn } from '../station/independent-reading.ts';
import { newFolder, startStation } from '../station/station-under-test.ts';
import { SCENARIOS } from '../station/treatment.ts';
import { complaintOf, reportOf, run } from './rehearsal.ts';

const rehearse = (name: string, data: string, ...words: string[]) =>
  run(['--scenario', join(SCENARIOS, `${name}.json`), '--data', data, ...words]);

/*
 * Worked out by hand from the scenarios, in seconds from T0.
 *
 * - full: primed with dextrose. Pump on at 600 s. Infusion 10 min, window 15 min. Beam on at 1501 s, so 901; 83 s of light end at 984.
 * - all others: 1.5 mL of the 30 mL of infusate are in the line already, so at 3 mL/min the syringe is empty 30 s early.
 * - held: pump on at 600 s, set back 8 s: T0 is 592 s. Held from 800 to 845 s, 45 s: the infusion ends at 615, the window
 *   stays at 900. Beam on at 1493 s, so 901.
 * - second eye: the limit is 20 min after T0, and was not reached before the light was done. Right eye on at 900; left eye
 *   on at 1040 for 30 s, again at 1085 for the 53 s left: 1138.
 * - stopped early: held at 840 s, stopped at 900 s. Its end, moved by the 60 s held, and the window do not come any more.
 * - with deviations: begun to flush 10 s early: the infusion's end does not come. Beam on at 930.
 */
const TIMERS: Record<string, [name: string, dueS: number, actualS: number | null][]> = {
  'full-session': [
    ['infusion end', 600, 600],
    ['light window', 900, 900],
    ['exposure, right eye', 984, 984],
  ],
  'held-infusion': [
    ['infusion end', 615, 615],
    ['light window', 900, 900],
    ['exposure, right eye', 984, 984],
  ],
  'second-eye': [
    ['infusion end', 570, 570],
    ['light window', 900, 900],
    ['second eye limit', 1200, null],
    ['exposure, right eye', 983, 983],
    ['exposure, left eye', 1138, 1138],
  ],
  'light-too-early': [
    ['infusion end', 570, 570],
    ['light window', 900, null],
  ],
  'stopped-early': [
    ['infusion end', 630, null],
    ['light window', 900, null],
  ],
  'with-deviations': [
    ['infusion end', 570, null],
    ['light window', 900, 900],
    ['exposure, right eye', 1013, 1013],
  ],
  'two-patients': [
    ['infusion end', 570, 570],
    ['light window', 900, 900],
    ['exposure, right eye', 984, 984],
  ],
};

const ENDS: Record<string, { code: number; finalState: string }> = {
  'full-session': { code: 0, finalState: 'discharged' },
  'held-infusion': { code: 0, finalState: 'discharged' },
  'second-eye': { code: 0, finalState: 'discharged' },
  'light-too-early': { code: 1, finalState: 'waitingForLight' },
  'stopped-early': { code: 0, finalState: 'discharged' },
  'with-deviations': { code: 0, finalState: 'discharged' },
  'two-patients': { code: 0, finalState: 'discharged' },
};

describe.each(Object.entries(ENDS))('%s', (name, { code, finalState }) => {
  test('ends as it should, and prints what an independent reading of the file finds', async () => {
    const data = newFolder();
    const ran = await rehearse(name, data);
    const report = reportOf(ran);
    expect(ran.code).toBe(code);
    expect(report.finalState).toBe(finalState);
    expect(report.database).toBe(join(data, 'practice.sqlite3'));
    expect(report.timers.map((timer) => [timer.name, timer.dueS, timer.actualS])).toStrictEqual(TIMERS[name]);

    const found = entriesIn(report.database);
    expect(report.entries).toStrictEqual(found);
    expect(brokenAt(found)).toStrictEqual([]);
    expect(found.find((entry) => entry.kind === 'open-session')?.sessionId).toBe(report.sessionId);
  });
});

describe('what goes wrong in a rehearsal is in what it prints', () => {
  test('light before its window: which command, when, and the light window by name', async () => {
    const ran = await rehearse('light-too-early', newFolder());
    const { refused, entries } = reportOf(ran);
    expect(refused).toStrictEqual({
      command: 26,
      kind: 'beam-on',
      atS: 1450,
      missing: ['the light window is not open'],
    });
    expect(entries.map((entry) => entry.kind)).not.toContain('beam-on');
    expect(ran.stderr).toMatch(/command 26 was refused: the light window is not open/);
  });

  test('a session that went on in spite of what was missing has each of it as a deviation', async () => {
    const { entries } = reportOf(await rehearse('with-deviations', newFolder()));
    const found = entries.flatMap((entry) => {
      const { payload } = entry as { payload?: { found?: { missing?: string[] } } };
      return payload?.found?.missing === undefined ? [] : [[entry.kind, payload.found.missing.length]];
    });
    expect(found).toStrictEqual([
      ['start-pump', 2],
      ['begin-flush', 1],
      ['end-flush', 2],
    ]);
  });

  test('nothing was refused: it does not speak of refusal', async () => {
    const ran = await rehearse('full-session', newFolder());
    expect(ran.json).not.toHaveProperty('refused');
    expect(ran.stderr).toBe('');
  });

  test('a data folder that is in use', async () => {
    const data = newFolder();
    await startStation(data);
    const ran = await rehearse('full-session', data);
    expect(ran.code).toBe(1);
    expect(complaintOf(ran)).toMatch(/is in use by another Dimroom/);
  });
});

test('two patients: both sessions are told of, each with timers of its own', async () => {
  const { sessions, entries } = reportOf(await rehearse('two-patients', newFolder()));
  expect(sessions?.map(({ finalState }) => finalState)).toStrictEqual(['discharged', 'discharged']);
  expect(sessions?.[1]?.timers).toMatchObject([
    { name: 'infusion end', dueS: 570, actualS: 570 },
    { name: 'light window', dueS: 900, actualS: 900 },
    { name: 'exposure, right eye', dueS: 983, actualS: 983 },
  ]);
  const opened = entries.filter(({ kind }) => kind === 'open-session').map(({ sessionId }) => sessionId);
  expect(opened).toStrictEqual(sessions?.map(({ sessionId }) => sessionId));
});

describe('the same scenario', () => {
  const kinds = (ran: Awaited<ReturnType<typeof run>>) => reportOf(ran).entries.map(({ kind }) => kind);

  test('twice gives the same entries in the same order, from different sessions', async () => {
    const [one, other] = [await rehearse('held-infusion', newFolder()), await rehearse('held-infusion', newFolder())];
    expect(kinds(other)).toStrictEqual(kinds(one));
    expect(reportOf(other).timers).toStrictEqual(reportOf(one).timers);
    expect(reportOf(other).sessionId).not.toBe(reportOf(one).sessionId);
  });

  test('at 600 times real time gives the same states and timers', async () => {
    const stepped = await rehearse('full-session', newFolder());
    const sped = await rehearse('full-session', newFolder(), '--speed', '600');
    expect(sped.code).toBe(0);
    expect(kinds(sped)).toStrictEqual(kinds(stepped));
    expect(reportOf(sped).finalState).toBe('discharged');
    expect(reportOf(sped).timers).toStrictEqual(reportOf(stepped).timers);
  });

  test('in a folder that has a session left open: it goes its own way, and the old one stays what it was', async () => {
    const data = newFolder();
    const left = reportOf(await rehearse('light-too-early', data));
    const ran = await rehearse('full-session', data);
    const report = reportOf(ran);
    expect(ran.code).toBe(0);
    expect(report.timers.map((timer) => [timer.name, timer.dueS, timer.actualS])).toStrictEqual(TIMERS['full-session']);
    expect(report.sessionId).not.toBe(left.sessionId);
    expect(report.entries.slice(0, left.entries.length)).toStrictEqual(left.entries);
    expect(brokenAt(entriesIn(report.database))).toStrictEqual([]);
  });
});

test('with no words at all it rehearses the full session, in a new folder', async () => {
  const temporary = newFolder();
  const report = reportOf(await run([], { TMPDIR: temporary }));
  expect(report.finalState).toBe('discharged');
  expect(report.database.startsWith(join(temporary, 'dimroom-rehearsal-'))).toBe(true);
});
