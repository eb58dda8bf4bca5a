import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { entriesIn } from '../station/independent-reading.ts';
import { newFolder, startStation } from '../station/station-under-test.ts';
import { type Given, NURSE, open, requestOf, sentences, TREATMENT, treat } from '../station/treatment.ts';

/** A station on a stepped clock, at a second of the treatment, everything up to there given. */
async function stationAt(atS: number) {
  const station = await startStation(newFolder(), '--practice', '--stepped');
  const { sessionId } = await open(station);
  for (const step of TREATMENT.filter((one) => one.atS <= atS)) {
    await station.advanceTo(step.atS * 1000);
    await treat(station, sessionId, [step]);
  }
  await station.advanceTo(atS * 1000);
  const give = (command: Command, by: Given['by'] = NURSE) =>
    station.ask(requestOf(station, sessionId, { by, command }));
  const setBack = async (command: Command) => {
    expect(await give(command)).toMatchObject({ type: 'entered' });
    await station.look();
    return station.view(sessionId).course;
  };
  const waitsFor = async (command: Command) => sentences(await give(command));
  const entry = (kind: string) => entriesIn(station.database).find((one) => one.kind === kind);
  return { station, sessionId, setBack, waitsFor, entry };
}

const T0_S = 600;
const BEAM_ON_S = 1501;
const BEAM_OFF_S = 1585;

describe('the pump ran before its key was pressed', () => {
  test('both timers move back by what was said; the press and what was said are both in the ledger', async () => {
    const { setBack, entry } = await stationAt(T0_S + 20);
    const course = await setBack({ kind: 'set-back', agoS: 8 });
    expect(course).toMatchObject({
      t0AtMs: 592_000,
      t0PressedAtMs: 600_000,
      infusionDueAtMs: 592_000 + 600_000,
      lightDueAtMs: 592_000 + 900_000,
    });
    expect(entry('start-pump')?.continuousMs).toBe(600_000);
    expect(entry('set-back')).toMatchObject({ continuousMs: 620_000, payload: { agoS: 8 }, author: NURSE });
  });

  test('at most what the site allows, once, and before the flush', async () => {
    const { station, sessionId, setBack, waitsFor } = await stationAt(T0_S + 20);
    expect(await waitsFor({ kind: 'set-back', agoS: 120.5 })).toMatch(/^at most 120 s can be set back at this site/);
    await setBack({ kind: 'set-back', agoS: 120 });
    expect(await waitsFor({ kind: 'set-back', agoS: 1 })).toBe('the start was set back once already');
    await station.advanceTo(1_205_000);
    await treat(station, sessionId, [{ atS: 0, by: NURSE, command: { kind: 'begin-flush' } }]);
    expect(await waitsFor({ kind: 'set-back', agoS: 1 })).toMatch(/^possible only in: infusing/);
  });

  test('an instant that is past by then is entered at once', async () => {
    const { station, setBack, entry } = await stationAt(T0_S + 595);
    await setBack({ kind: 'set-back', agoS: 60 });
    await station.advanceTo(T0_S * 1000 + 596_000);
    expect(entry('infusion-due')).toMatchObject({ payload: { dueAtMs: 540_000 + 600_000 } });
  });
});

describe('the beam came on or went off before its key was pressed', () => {
  test('its stretch moves by what was said; the press and what was said are both in the ledger', async () => {
    const { setBack, entry } = await stationAt(BEAM_ON_S + 10);
    const course = await setBack({ kind: 'beam-set-back', edge: 'on', agoS: 5 });
    expect(course?.exposures[0]?.beams).toStrictEqual([{ onAtMs: 1_496_000, offAtMs: null }]);
    expect(entry('beam-on')?.continuousMs).toBe(1_501_000);
    expect(entry('beam-set-back')).toMatchObject({ continuousMs: 1_511_000, payload: { edge: 'on', agoS: 5 } });
  });

  test('at most what the site allows, not before the flush was done, and off not before on', async () => {
    const on = await stationAt(BEAM_ON_S + 10);
    expect(await on.waitsFor({ kind: 'beam-set-back', edge: 'on', agoS: 121 })).toMatch(
      /^at most 120 s can be set back/,
    );
    expect(await on.waitsFor({ kind: 'beam-set-back', edge: 'off', agoS: 5 })).toBe('the beam is still on');
    const off = await stationAt(BEAM_OFF_S + 5);
    expect(await off.waitsFor({ kind: 'beam-set-back', edge: 'off', agoS: 90 })).toMatch(
      /^that would be before the light could have been/,
    );
    const course = await off.setBack({ kind: 'beam-set-back', edge: 'off', agoS: 3 });
    expect(course?.exposures[0]?.beams).toStrictEqual([{ onAtMs: 1_501_000, offAtMs: 1_581_000 }]);
  });

  test('said in several parts, it is no more than the site allows in all', async () => {
    const { setBack, waitsFor } = await stationAt(BEAM_ON_S + 10);
    const course = await setBack({ kind: 'beam-set-back', edge: 'on', agoS: 30 });
    expect(course?.exposures[0]?.beams).toStrictEqual([{ onAtMs: 1_471_000, offAtMs: null }]);
    expect(await waitsFor({ kind: 'beam-set-back', edge: 'on', agoS: 90.5 })).toMatch(/^at most 120 s can be set back/);
  });

  test('before the beam there is nothing to set back', async () => {
    const { waitsFor } = await stationAt(BEAM_ON_S - 10);
    expect(await waitsFor({ kind: 'beam-set-back', edge: 'on', agoS: 5 })).toMatch(/^possible only in: light delivery/);
  });
});
