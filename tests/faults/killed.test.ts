import { describe, expect, test } from 'vitest';
import type { SessionView } from '../../core/protocol/view.ts';
import { brokenAt, entriesIn, kindsIn } from '../station/independent-reading.ts';
import { newFolder, newRequestId, startStation } from '../station/station-under-test.ts';
import { entered, NURSE, open, openRequest, requestOf, TREATMENT, treat, upTo } from '../station/treatment.ts';

/*
 * A station is ended with SIGKILL, which it cannot see coming, and started again on the same folder. That shows what
 * the end of the process does; that of the machine's power is not shown here.
 */

const NOTE = { by: NURSE, command: { kind: 'note', words: 'patient is calm' } } as const;

/** What of a session does not change by the mere passing of time. */
function lasting({ state, reached, patient, plan, line, tasks, timers, course, deviations, rebased }: SessionView) {
  const { windowOpen: _open, exposures = [], ...instants } = course ?? { windowOpen: false };
  const light = exposures.map(({ whole: _whole, ...exposure }) => exposure);
  return { state, reached, patient, plan, line, tasks, timers, instants, light, deviations, rebased };
}

const commandsIn = (file: string): string[] => entriesIn(file).flatMap(({ commandId }) => commandId ?? []);
const twice = (all: readonly string[]): string[] => all.filter((one, index) => all.indexOf(one) !== index);

describe('killed in the middle of an infusion', () => {
  test('both timers are due at the same instants as before, and the infusion goes on to its flush', async () => {
    const data = newFolder();
    const first = await startStation(data);
    const { sessionId } = await open(first);
    const given = await treat(first, sessionId, upTo('start-pump'));
    const before = await first.look();
    const shown = first.view(sessionId);
    await first.kill();

    const second = await startStation(data);
    const course = second.view(sessionId).course;
    expect(second.takenUp).toBe(1);
    expect(second.boot).toBe(first.boot);
    expect(shown.course?.infusionDueAtMs).toBe((shown.course?.t0AtMs ?? 0) + 600_000);
    expect(course?.infusionDueAtMs).toBeCloseTo(shown.course?.infusionDueAtMs ?? 0, 3);
    expect(course?.lightDueAtMs).toBeCloseTo(shown.course?.lightDueAtMs ?? 0, 3);
    expect(lasting(second.view(sessionId))).toStrictEqual(lasting(shown));
    expect(second.latest().nowMs).toBeGreaterThan(before.nowMs);
    expect(entriesIn(second.database).filter(({ kind }) => kind === 'rebase')).toStrictEqual([]);

    const seqs = entriesIn(second.database).map(({ seq }) => seq);
    expect(given.filter(({ seq }) => !seqs.includes(seq))).toStrictEqual([]);
    expect(twice(commandsIn(second.database))).toStrictEqual([]);

    const hold = { by: NURSE, command: { kind: 'hold', reason: 'pump' } } as const;
    const flush = { kind: 'begin-flush', override: { reason: 'the syringe is empty' } } as const;
    await treat(second, sessionId, [
      { atS: 0, ...hold },
      { atS: 0, by: NURSE, command: { kind: 'resume' } },
      { atS: 0, by: NURSE, command: flush },
    ]);
    expect(second.view(sessionId).state).toBe('flushing');
    expect(second.view(sessionId).course?.lightDueAtMs).toBe(shown.course?.lightDueAtMs);
  });

  test('a hold outlasts it: what was left when it was held is left when it is resumed', async () => {
    const data = newFolder();
    const first = await startStation(data);
    const { sessionId } = await open(first);
    const hold = { atS: 0, by: NURSE, command: { kind: 'hold', reason: 'pain' } } as const;
    await treat(first, sessionId, [...upTo('start-pump'), hold]);
    const timer = first.view(sessionId).timers.find(({ name }) => name === 'infusion');
    await first.kill();
    const second = await startStation(data);
    expect(second.view(sessionId).timers.find(({ name }) => name === 'infusion')).toStrictEqual(timer);
    await treat(second, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'resume' } }]);
    const course = second.view(sessionId).course;
    const resumedAtMs = course?.holds[0]?.resumedAtMs ?? 0;
    expect(course?.infusionDueAtMs).toBeCloseTo(resumedAtMs + (timer?.leftMs ?? 0), 3);
  });

  test('an instant that came due while no station ran is entered at the next start, once', async () => {
    const data = newFolder();
    const rate = 200;
    const words = ['--practice', '--speed', String(rate)];
    const first = await startStation(data, ...words);
    const { sessionId } = await open(first);
    await treat(first, sessionId, upTo('start-pump'));
    const infusionDueAtMs = first.view(sessionId).course?.infusionDueAtMs ?? 0;
    await first.kill();
    expect(kindsIn(first.database, sessionId)).not.toContain('infusion-due');
    const leftMs = (infusionDueAtMs - first.latest().nowMs) / rate;
    await new Promise((resolve) => setTimeout(resolve, leftMs));
    const second = await startStation(data, ...words);
    expect(second.latest().nowMs).toBeGreaterThan(infusionDueAtMs);
    const rung = entriesIn(second.database).filter(({ kind }) => kind === 'infusion-due');
    expect(rung.map(({ payload }) => payload)).toStrictEqual([{ dueAtMs: infusionDueAtMs }]);
  });
});

describe('killed while a command is under way: sent again, it is entered once', () => {
  test('its entry was made and the answer was not heard', async () => {
    const data = newFolder();
    const first = await startStation(data);
    const { sessionId } = await open(first);
    const request = requestOf(first, sessionId, NOTE);
    first.tell(request);
    while (!commandsIn(first.database).includes(request.requestId)) await new Promise((done) => setTimeout(done, 1));
    await first.kill();
    const second = await startStation(data);
    const { seq } = entered(await second.ask(request));
    expect(entriesIn(second.database).filter(({ kind }) => kind === 'note')).toMatchObject([{ seq }]);
  });

  test('an opening whose answer was not heard opens one session', async () => {
    const data = newFolder();
    const request = openRequest(newRequestId());
    const first = await startStation(data);
    const { sessionId } = entered(await first.ask(request));
    await first.kill();
    const second = await startStation(data);
    expect(entered(await second.ask(request)).sessionId).toBe(sessionId);
    expect((await second.look()).sessions).toHaveLength(1);
  });

  test('at any moment after it was sent, six times over', async () => {
    const data = newFolder();
    let station = await startStation(data);
    const { sessionId } = await open(station);
    const sent: string[] = [];
    for (let round = 0; round < 6; round += 1) {
      const request = requestOf(station, sessionId, NOTE);
      sent.push(request.requestId);
      station.tell(request);
      await new Promise((resolve) => setTimeout(resolve, round / 2));
      await station.kill();
      station = await startStation(data);
      entered(await station.ask(request));
      await station.look();
    }
    expect(commandsIn(station.database).slice(1)).toStrictEqual(sent);
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });
});

describe('killed after every single entry of a whole treatment', () => {
  /*
   * The clock runs 100 times as fast, so that the treatment is over in seconds; it is that of the same boot each time,
   * so that nothing is re-based. A stepped clock would begin anew with each start.
   */
  const words = ['--practice', '--speed', '100'];

  test('it goes on as if nothing had happened, to its end', { timeout: 150_000 }, async () => {
    const data = newFolder();
    let station = await startStation(data, ...words);
    const { sessionId } = await open(station);
    let kills = 0;

    async function killAndCompare(): Promise<void> {
      await station.look();
      const [before, entries] = [station.view(sessionId), entriesIn(station.database)];
      await station.kill();
      kills += 1;
      station = await startStation(data, ...words);
      const after = entriesIn(station.database);
      expect(after.slice(0, entries.length)).toStrictEqual(entries);
      if (before.state !== 'discharged') expect(lasting(station.view(sessionId))).toStrictEqual(lasting(before));
    }

    /** Nobody says that the laser has ended the light before its ordered seconds are over. */
    async function lightIsGiven(): Promise<void> {
      const { seq, timers } = station.view(sessionId);
      const dueAtMs = timers.find(({ name, phase }) => name === 'exposure' && phase === 'running')?.dueAtMs ?? 0;
      await station.when((present) => present.nowMs >= dueAtMs);
      if (station.view(sessionId).seq > seq) await killAndCompare();
    }

    for (const step of TREATMENT) {
      if (step.command.kind === 'beam-off') await lightIsGiven();
      let request = requestOf(station, sessionId, step);
      let reply = await station.ask(request);
      while (reply.type === 'refused') {
        const waitsFor = reply.missing.map(({ text, untilAtMs }) => ({ text, untilAtMs: untilAtMs ?? Number.NaN }));
        expect(waitsFor.filter(({ untilAtMs }) => Number.isNaN(untilAtMs))).toStrictEqual([]);
        const { seq } = station.view(sessionId);
        const openAtMs = Math.max(...waitsFor.map(({ untilAtMs }) => untilAtMs));
        await station.when((present) => present.nowMs >= openAtMs || station.view(sessionId).seq > seq);
        if (station.view(sessionId).seq > seq) await killAndCompare();
        request = requestOf(station, sessionId, step);
        reply = await station.ask(request);
      }
      const { seq } = entered(reply);
      await killAndCompare();
      expect(entered(await station.ask(request)).seq).toBe(seq);
    }

    const kinds = kindsIn(station.database, sessionId);
    const commands = kinds.filter((kind) => !kind.endsWith('-due'));
    expect(kills).toBeGreaterThanOrEqual(TREATMENT.length);
    expect(commands).toStrictEqual(['open-session', ...TREATMENT.map(({ command }) => command.kind)]);
    expect(kinds.filter((kind) => kind.endsWith('-due')).sort()).toStrictEqual(
      ['exposure-due', 'flush-due', 'infusion-due', 'light-due'].filter((kind) => kinds.includes(kind)),
    );
    expect(kinds).toEqual(expect.arrayContaining(['infusion-due', 'light-due']));
    expect(twice(commandsIn(station.database))).toStrictEqual([]);
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });
});
