import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { brokenAt, entriesIn, kindsIn } from '../station/independent-reading.ts';
import { type FaultableStation, newFolder, startFaultable } from '../station/station-under-test.ts';
import { type Given, NURSE, open, requestOf, sentences, treat, upTo } from '../station/treatment.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const YEAR_MS = 365 * 24 * HOUR_MS;
/** Clocks are read one after the other, and a busy machine may do something else in between. */
const APART_MS = 500;

const given = (command: Command): Given => ({ atS: 0, by: NURSE, command });
const looked = (pump: 'ran on' | 'stood still' | 'was off') => given({ kind: 'looked', pump });
const near = (ms: number, wantedMs: number): boolean => Math.abs(ms - wantedMs) < APART_MS;

async function stationIn(kind: Command['kind']) {
  const station = await startFaultable(newFolder());
  const { sessionId } = await open(station);
  for (const step of upTo(kind)) {
    if (step.command.kind === 'begin-flush') await station.move({ awakeMs: station.machine().awakeMs + 601_000 });
    await treat(station, sessionId, [step]);
  }
  return { station, sessionId };
}

/** Entries of one kind, once there is one more than before. */
async function noticed(station: FaultableStation, kind: string, count = 1) {
  await station.when(() => kindsIn(station.database).filter((one) => one === kind).length >= count);
  return entriesIn(station.database).filter((entry) => entry.kind === kind);
}

describe.each([
  ['90 s', 90_000],
  ['2 h', 2 * HOUR_MS],
])('the machine slept for %s in the middle of an infusion', (_name, sleptMs) => {
  async function slept() {
    const { station, sessionId } = await stationIn('start-pump');
    const before = await station.look();
    const { course } = station.view(sessionId);
    await station.move({ sleptMs });
    const [entry] = await noticed(station, 'slept');
    await station.look();
    return { station, sessionId, before, course, entry };
  }

  test('both estimates of it are entered, and the counts have run on', async () => {
    const { station, sessionId, before, course, entry } = await slept();
    expect(entry?.sessionId).toBe(sessionId);
    expect(near(Number(entry?.payload.sleptMs), sleptMs)).toBe(true);
    expect(near(Number(entry?.payload.byWallMs), sleptMs)).toBe(true);
    expect(station.latest().nowMs - before.nowMs).toBeGreaterThan(sleptMs);
    expect(station.view(sessionId).course).toMatchObject({
      t0AtMs: course?.t0AtMs,
      infusionDueAtMs: course?.infusionDueAtMs,
      lightDueAtMs: course?.lightDueAtMs,
    });
  });

  test('steps wait until somebody has looked at the pump; a hold and a stop do not', async () => {
    const { station, sessionId } = await slept();
    const flush = requestOf(station, sessionId, given({ kind: 'begin-flush' }));
    expect(sentences(await station.ask(flush))).toMatch(/^this computer slept for \d+ s: look at the pump/);
    await treat(station, sessionId, [given({ kind: 'hold', reason: 'pump' }), looked('ran on')]);
    const again = requestOf(station, sessionId, looked('ran on'));
    expect(sentences(await station.ask(again))).toBe('this computer has not slept since somebody looked');
  });

  test.each(['ran on', 'was off'] as const)('the pump %s: no count is changed', async (pump) => {
    const { station, sessionId, course } = await slept();
    await treat(station, sessionId, [looked(pump)]);
    expect(station.view(sessionId).course).toMatchObject({
      infusionDueAtMs: course?.infusionDueAtMs,
      lightDueAtMs: course?.lightDueAtMs,
    });
  });

  test('the pump stood still: the infusion ends later by the sleep, the light does not move', async () => {
    const { station, sessionId, course, entry } = await slept();
    await treat(station, sessionId, [looked('stood still')]);
    const after = station.view(sessionId).course;
    expect(after?.infusionDueAtMs).toBeCloseTo((course?.infusionDueAtMs ?? 0) + Number(entry?.payload.sleptMs), 2);
    expect(after?.lightDueAtMs).toBe(course?.lightDueAtMs);
  });
});

describe('instants that came due while the machine slept', () => {
  test('are entered on waking, each as of its own time; an infusion that stood still comes due once more', async () => {
    const { station, sessionId } = await stationIn('start-pump');
    const { course } = station.view(sessionId);
    await station.move({ sleptMs: 2 * HOUR_MS });
    const [slept] = await noticed(station, 'slept');
    const rung = () => entriesIn(station.database).filter(({ kind }) => kind.endsWith('-due'));
    expect(rung().map(({ kind, payload }) => [kind, payload.dueAtMs])).toStrictEqual([
      ['infusion-due', course?.infusionDueAtMs],
      ['light-due', course?.lightDueAtMs],
    ]);
    await treat(station, sessionId, [looked('stood still')]);
    const laterAtMs = station.view(sessionId).course?.infusionDueAtMs ?? 0;
    expect(laterAtMs).toBeCloseTo((course?.infusionDueAtMs ?? 0) + Number(slept?.payload.sleptMs), 2);
    await station.move({ awakeMs: station.machine().awakeMs + 11 * MINUTE_MS });
    await noticed(station, 'infusion-due', 2);
    expect(rung().at(-1)?.payload).toStrictEqual({ dueAtMs: laterAtMs });
    expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  });

  test('a sleep while the infusion was held takes nothing back from it', async () => {
    const { station, sessionId } = await stationIn('start-pump');
    await treat(station, sessionId, [given({ kind: 'hold', reason: 'pain' })]);
    const timer = station.view(sessionId).timers.find(({ name }) => name === 'infusion');
    await station.move({ sleptMs: 90_000 });
    await noticed(station, 'slept');
    await station.look();
    await treat(station, sessionId, [looked('stood still')]);
    expect(station.view(sessionId).timers.find(({ name }) => name === 'infusion')).toStrictEqual(timer);
  });
});

test('wall time that was set while the machine slept: the two estimates differ, and both are entered', async () => {
  const { station } = await stationIn('start-pump');
  await station.move({ sleptMs: 90_000, wallStepMs: -30_000 });
  const [entry] = await noticed(station, 'slept');
  expect(near(Number(entry?.payload.sleptMs), 90_000)).toBe(true);
  expect(near(Number(entry?.payload.byWallMs), 60_000)).toBe(true);
  const [step] = await noticed(station, 'clock-stepped');
  expect(near(Number(step?.payload.byMs), -30_000)).toBe(true);
});

test('a sleep concerns each session under way, and none that is being planned', async () => {
  const { station, sessionId } = await stationIn('start-pump');
  const second = await open(station);
  await treat(station, second.sessionId, upTo('identify'));
  await station.move({ sleptMs: 90_000 });
  expect((await noticed(station, 'slept')).map((entry) => entry.sessionId)).toStrictEqual([sessionId]);
});

test('a sleep while nobody is treated is entered of the station itself', async () => {
  const { station, sessionId } = await stationIn('identify');
  await station.move({ sleptMs: 90_000 });
  expect((await noticed(station, 'slept')).map((entry) => entry.sessionId)).toStrictEqual([null]);
  await treat(station, sessionId, [given({ kind: 'check', item: 'consent' })]);
});

describe('the machine slept while no station ran', () => {
  async function sleptBetween(sleptMs: number) {
    const data = newFolder();
    const station = await startFaultable(data);
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('start-pump'));
    const { course } = station.view(sessionId);
    await station.kill();
    const next = await startFaultable(data, { ...station.machine(), sleptMs });
    await next.look();
    return { data, next, sessionId, course };
  }

  test('that is entered at the next start of the same boot, and asks for a look at the pump', async () => {
    const { next, sessionId, course } = await sleptBetween(90_000);
    const [entry] = entriesIn(next.database).filter(({ kind }) => kind === 'slept');
    expect(entry?.sessionId).toBe(sessionId);
    expect(near(Number(entry?.payload.sleptMs), 90_000)).toBe(true);
    expect(near(Number(entry?.payload.byWallMs), 90_000)).toBe(true);
    expect(next.view(sessionId).course).toMatchObject({ lightDueAtMs: course?.lightDueAtMs });
    const flush = requestOf(next, sessionId, given({ kind: 'begin-flush' }));
    expect(sentences(await next.ask(flush))).toMatch(/^this computer slept for 90 s: look at the pump/);
  });

  test('once: a further start without a further sleep enters none', async () => {
    const { data, next, sessionId } = await sleptBetween(90_000);
    await treat(next, sessionId, [looked('ran on')]);
    await next.kill();
    const third = await startFaultable(data, next.machine());
    await third.look();
    expect(kindsIn(third.database).filter((kind) => kind === 'slept')).toHaveLength(1);
  });

  test('and none of it is taken for sleep that the station had entered itself, nor for time that only went by', async () => {
    const data = newFolder();
    const station = await startFaultable(data);
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('start-pump'));
    await station.move({ sleptMs: 90_000 });
    await noticed(station, 'slept');
    await station.kill();
    const { awakeMs } = station.machine();
    const next = await startFaultable(data, { ...station.machine(), awakeMs: awakeMs + HOUR_MS });
    await next.look();
    expect(kindsIn(next.database).filter((kind) => kind === 'slept')).toHaveLength(1);
  });
});

describe.each([
  ['an hour on', HOUR_MS],
  ['an hour back', -HOUR_MS],
  ['years on', 7 * YEAR_MS],
  ['years back', -7 * YEAR_MS],
])('wall time was set %s', (_name, byMs) => {
  test('that is entered, and no count moves by it', async () => {
    const { station, sessionId } = await stationIn('start-pump');
    const before = await station.look();
    const { course } = station.view(sessionId);
    await station.move({ wallStepMs: byMs });
    const [entry] = await noticed(station, 'clock-stepped');
    expect(near(Number(entry?.payload.byMs), byMs)).toBe(true);
    expect(near(Number(entry?.wallMs) - before.wallMs - byMs, Number(entry?.continuousMs) - before.nowMs)).toBe(true);
    await station.look();
    expect(station.view(sessionId).course).toStrictEqual(course);
    expect(station.latest().boot).toBe(before.boot);
    await station.move({ awakeMs: 601_000 });
    const [rung] = await noticed(station, 'infusion-due');
    expect(rung?.payload).toStrictEqual({ dueAtMs: course?.infusionDueAtMs });
    expect(kindsIn(station.database)).not.toContain('slept');
  });

  test('and the machine was started anew afterwards: counts are re-based by wall time as it was set', async () => {
    const data = newFolder();
    const station = await startFaultable(data);
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('start-pump'));
    await station.move({ wallStepMs: byMs });
    await noticed(station, 'clock-stepped');
    const { nowMs } = await station.look();
    const leftMs = (station.view(sessionId).course?.lightDueAtMs ?? 0) - nowMs;
    await station.kill();
    const killedAt = performance.now();
    const next = await startFaultable(data, { ...station.machine(), boot: 'the boot after', bootedAtMs: 5000 });
    const present = await next.look();
    const offMs = performance.now() - killedAt;
    const nowLeftMs = (next.view(sessionId).course?.lightDueAtMs ?? 0) - present.nowMs;
    expect(next.view(sessionId).rebased).toBe(true);
    expect(near(leftMs - nowLeftMs, offMs)).toBe(true);
  });
});

test('another zone is entered, and no count moves by it', async () => {
  const { station, sessionId } = await stationIn('start-pump');
  const { course } = station.view(sessionId);
  const { offsetMin } = await station.look();
  const [zone, toMin] = offsetMin === 330 ? ['Asia/Kathmandu', 345] : ['Asia/Kolkata', 330];
  await station.move({ zone });
  const [entry] = await noticed(station, 'zone-changed');
  expect(entry).toMatchObject({ sessionId: null, offsetMin: toMin, payload: { fromMin: offsetMin, toMin } });
  await station.look();
  expect(station.view(sessionId).course).toStrictEqual(course);
  expect(kindsIn(station.database)).not.toContain('clock-stepped');
});

test('time that only went by is none of this', async () => {
  const { station, sessionId } = await stationIn('begin-flush');
  await station.move({ awakeMs: station.machine().awakeMs + 5 * MINUTE_MS });
  await noticed(station, 'light-due');
  const { nowMs } = await station.look();
  await station.when((present) => present.nowMs > nowMs + 1500);
  const moved = kindsIn(station.database).filter((kind) => ['slept', 'clock-stepped', 'zone-changed'].includes(kind));
  expect(moved).toStrictEqual([]);
  expect(station.view(sessionId).state).toBe('flushing');
});
