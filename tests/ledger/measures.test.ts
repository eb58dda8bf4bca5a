import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { deviationsOf } from '../../core/ledger/deviations.ts';
import type { Entry } from '../../core/ledger/entry.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { replay } from '../../core/ledger/replay.ts';
import { commandSchema } from '../../core/procedure/commands.ts';
import { personSchema } from '../../core/procedure/person.ts';
import { stateOf } from '../../core/procedure/record.ts';
import type { Session } from '../../core/procedure/session.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { type Happening, type Lived, live } from '../deviations/lived-session.ts';
import { seeded } from '../deviations/seeded-session.ts';
import { entriesOf, NURSE, ONE_EYE, OPENED_AT_MS, played, type Step, stepsBefore, TWO_EYES } from '../session-steps.ts';

const SCENARIOS = join(import.meta.dirname, '../scenarios');

/** A scenario as the rehearsal plays it, with a window that tells of its cues. */
function scenario(name: string): Lived {
  const steps = JSON.parse(readFileSync(join(SCENARIOS, `${name}.json`), 'utf8')) as {
    atS: number;
    by: unknown;
    command: { kind: string };
  }[];
  return live(
    steps
      .filter(({ command }) => command.kind !== 'open-session')
      .map(({ atS, by, command }): Happening => {
        return { atMs: OPENED_AT_MS + atS * 1000, by: personSchema.parse(by), command: commandSchema.parse(command) };
      }),
  );
}

/** Rule and value of everything found, but for the reasons that were given on the way. */
const departures = ({ measures }: Lived): [string, number | null][] =>
  deviationsOf(measures, DEFAULT_LIMITS)
    .filter(({ ruleId }) => ruleId !== 'guard-overridden')
    .map(({ ruleId, value }) => [ruleId, value]);

/*
 * Worked out by hand from the scenarios. 1.5 mL of line are 5 % of the 30 mL; primed with drug the syringe is empty
 * after 570 s.
 */
describe('the scenarios of the rehearsal', () => {
  test('full session: light begun 1 s after its window', () => {
    const { measures } = scenario('full-session');
    expect(measures.light).toMatchObject({ dueFromT0Ms: 900_000, startOffsetMs: 1000 });
    expect(measures).toMatchObject({ state: 'discharged', trouble: null, eyes: ['right'], stoppedEarly: null });
    expect(departures(scenario('full-session'))).toEqual([]);
  });

  test('held infusion: set back 8 s, held for 45 s from 3:28 on, and on 33 s past its end', () => {
    const held = scenario('held-infusion');
    const { holds, t0, light } = held.measures;
    expect(t0).toMatchObject({ setBackMs: 8000, seq: held.seqOf('start-pump') });
    expect(holds).toEqual([{ seq: held.seqOf('hold'), reason: 'pain', fromT0Ms: 208_000, heldMs: 45_000 }]);
    expect(light).toMatchObject({ dueFromT0Ms: 900_000, startOffsetMs: 1000 });
    expect(departures(held)).toEqual([
      ['late-press', 8],
      ['infusion-held', 45],
      ['infusion-long', 33],
    ]);
  });

  test('second eye: begun 160 s before its limit, in two stretches', () => {
    const { measures } = scenario('second-eye');
    expect(measures.secondEye).toMatchObject({ limitFromT0Ms: 1_200_000, eye: 'left', startOffsetMs: -160_000 });
    expect(measures.exposures.map(({ eye, deliveredS }) => [eye, deliveredS])).toEqual([
      ['right', 83],
      ['left', 83],
    ]);
    const [on, again] = measures.exposures[1]?.beams ?? [];
    expect([on?.onFromT0Ms, on?.offFromT0Ms]).toEqual([1_040_000, 1_070_000]);
    expect([again?.onFromT0Ms, again?.offFromT0Ms]).toEqual([1_085_000, 1_138_000]);
    expect(departures(scenario('second-eye'))).toEqual([]);
  });

  test('stopped early: the pump had run 240 s, no flush, no light', () => {
    const stopped = scenario('stopped-early');
    const { measures } = stopped;
    const seq = stopped.seqOf('stop-early');
    expect(measures.infusion).toMatchObject({ ranMs: 240_000, endSeq: seq, endFromT0Ms: 300_000 });
    expect(measures.holds).toMatchObject([{ fromT0Ms: 240_000, heldMs: 60_000 }]);
    expect(measures.flush?.skipped).toMatchObject({ seq, how: 'not begun' });
    expect(measures.exposures).toMatchObject([{ deliveredS: 0, beams: [] }]);
    expect(deviationsOf(measures, DEFAULT_LIMITS).map(({ ruleId }) => ruleId)).toEqual([
      'infusion-held',
      'light-short',
      'infusion-short',
      'flush-skipped',
      'stopped-early',
    ]);
  });

  test('with deviations: each reason stands at its step, beside what it came to', () => {
    const { measures, seqOf } = scenario('with-deviations');
    expect(measures.overriddenGuards.map(({ seq, step, missing }) => [seq, step, missing.length])).toEqual([
      [seqOf('start-pump'), 'start-pump', 2],
      [seqOf('begin-flush'), 'begin-flush', 1],
      [seqOf('end-flush'), 'end-flush', 2],
    ]);
    expect(measures.light?.startOffsetMs).toBe(30_000);
    expect(measures.infusion).toMatchObject({ plannedMs: 570_000, ranMs: 560_000 });
    expect(measures.flush).toMatchObject({ ranMs: 30_000, flushMl: 3, notDeliveredMg: 0, skipped: null });
    expect(departures(scenario('with-deviations'))).toEqual([]);
  });
});

describe('whom and what a session is found by', () => {
  const { measures } = seeded({ secondEyeMs: -60_000 });

  test('people once each, in the order of appearance, and never the station', () => {
    expect(measures.people).toEqual([
      { initials: 'MO', role: 'nurse' },
      { initials: 'TK', role: 'nurse' },
      { initials: 'RV', role: 'operator' },
    ]);
  });

  test('code, regimen, eyes and lots', () => {
    expect(measures).toMatchObject({
      patientCode: 'K-2041',
      regimenId: 'label',
      eyes: ['right', 'left'],
      lots: ['A1027'],
    });
  });

  test('a second vial is found by its lot too', () => {
    const drug = { kind: 'drug', lot: 'B2200', expires: '2099-12-31' } as const;
    const step: Step = { name: 'drug', atMs: OPENED_AT_MS + 312_000, by: NURSE, command: drug };
    const steps = [...stepsBefore('inspected'), step];
    expect(measuresOf(entriesOf(played(steps).events)).lots).toEqual(['A1027', 'B2200']);
  });

  test('an addendum long after is of the session, and what the station did until then is not', () => {
    const addendum = { kind: 'addendum', words: 'the patient rang: all well', reason: 'called the day after' } as const;
    const notes = [{ atMs: OPENED_AT_MS + 5_000_000, kind: 'clock-stepped', payload: { byMs: 60_000 } }];
    const happenings = ONE_EYE.map(({ atMs, by, command }): Happening => ({ atMs, by, command }));
    const lived = live([...happenings, { atMs: OPENED_AT_MS + 9_000_000, command: addendum }], undefined, notes);
    expect(lived.stationEntries).toHaveLength(1);
    expect(lived.measures).toMatchObject({ clockEvents: [], lastSeq: lived.seqOf('addendum'), trouble: null });
  });
});

describe('sessions that went otherwise', () => {
  const whole = TWO_EYES.map(({ atMs, by, command }): Happening => ({ atMs, by, command }));
  const STOP = { kind: 'stop-early', reason: 'the patient asks to stop' } as const;

  /** Stopped right after each step of a treatment that is not over. */
  const stops = whole.slice(
    0,
    whole.findIndex((one) => 'command' in one && one.command.kind === 'discharge'),
  );
  test.each(stops.map((one, index) => ['command' in one ? one.command.kind : '', index] as const))(
    'stopped early after %s (step %i): measures agree with the record, and the dose is accounted for',
    (_kind, index) => {
      const until = whole.slice(0, index + 1);
      const lived = live([...until, { atMs: (until.at(-1)?.atMs ?? 0) + 4000, command: STOP }]);
      const { measures } = lived;
      const record = replay(lived.entries).context;
      const seq = lived.seqOf('stop-early');
      expect(measures).toMatchObject({ state: 'stoppedEarly', trouble: null, stoppedEarly: { seq } });
      const found = deviationsOf(measures, DEFAULT_LIMITS);
      expect(found.filter(({ ruleId }) => ruleId === 'stopped-early')).toMatchObject([{ seq }]);
      const { course, plan, line } = record;
      if (course === null || plan === null) {
        expect(measures).toMatchObject({ t0: null, infusion: null, flush: null, light: null, exposures: [] });
        expect(found).toHaveLength(1);
        return;
      }
      expect(measures.infusion?.ranMs).toBe(course.infusion.ranBeforeMs);
      expect(course.exposures.flatMap(({ beams }) => beams).every(({ offAtMs }) => offAtMs !== null)).toBe(true);
      const skipped = measures.flush?.skipped ?? null;
      expect(skipped === null).toBe((course.flush?.endedAtMs ?? null) !== null);
      if (skipped === null) return;
      const { totalMl, doseAfterRoundingMg, rateMlPerMin } = plan.infusate;
      const pumpedMl = (course.infusion.ranBeforeMs / 60_000) * rateMlPerMin;
      const reachedMl = Math.max(0, pumpedMl - (line?.lineMl ?? 0));
      const reachedMg = (reachedMl / totalMl) * doseAfterRoundingMg;
      expect(reachedMg + (skipped.inLineMg ?? Number.NaN) + skipped.inSyringeMg).toBeCloseTo(doseAfterRoundingMg, 3);
    },
  );

  test('a flush that is skipped where nobody entered what the line holds: how much stayed there is not known', () => {
    const steps = stepsBefore('begin-flush', ONE_EYE, ['line']).map(({ atMs, by, command }): Happening => {
      const override = { reason: 'the set is of an unknown kind' };
      return { atMs, by, command: command.kind === 'start-pump' ? { ...command, override } : command };
    });
    const lived = live([...steps, { atMs: OPENED_AT_MS + 900_000, command: STOP }]);
    const [skipped] = deviationsOf(lived.measures, DEFAULT_LIMITS).filter(({ ruleId }) => ruleId === 'flush-skipped');
    expect(skipped).toMatchObject({ value: null, unit: 'mg' });
    expect(skipped?.words).toMatch(/what the line held is not known/);
  });

  test('while a session is under way nothing is judged that may still come about', () => {
    for (let cut = 1; cut <= whole.length; cut += 1) {
      const { measures } = live(whole.slice(0, cut));
      expect(deviationsOf(measures, DEFAULT_LIMITS)).toEqual([]);
    }
  });

  test('a trouble that takes the pump off is a hold with its name, from the entry of the trouble on', () => {
    const steps = stepsBefore('begin-flush').map(({ atMs, by, command }): Happening => ({ atMs, by, command }));
    const lived = live([
      ...steps,
      { atMs: OPENED_AT_MS + 700_000, command: { kind: 'trouble', card: 'pain' } },
      { atMs: OPENED_AT_MS + 730_000, command: { kind: 'resume' } },
    ]);
    expect(lived.measures.holds).toEqual([
      { seq: lived.seqOf('trouble'), reason: 'pain', fromT0Ms: 100_000, heldMs: 30_000 },
    ]);
  });

  test('the eye that was begun second has the limit, whichever was ordered second', () => {
    const reason = { override: { reason: 'the physician decides so' } };
    const prepared = stepsBefore('drops:right', TWO_EYES).map(
      ({ atMs, by, command }): Happening => ({ atMs, by, command }),
    );
    const lived = live([
      ...prepared,
      { atMs: OPENED_AT_MS + 1_510_000, command: { kind: 'beam-on', eye: 'left', ...reason } },
      { atMs: OPENED_AT_MS + 1_593_000, command: { kind: 'beam-off', endedByLaser: true } },
      { atMs: OPENED_AT_MS + 1_810_000, command: { kind: 'beam-on', eye: 'right', ...reason } },
    ]);
    expect(lived.measures.light?.startOffsetMs).toBe(10_000);
    expect(lived.measures.secondEye).toMatchObject({ eye: 'right', startOffsetMs: 10_000 });
  });
});

describe('cues', () => {
  test('a window that is open once the light has begun is no cue that is missed', () => {
    const lived = seeded({
      lightMs: -20_000,
      cues: (cue) => (cue === 'light-window-open' ? null : { outcome: 'sounded', lateMs: 0 }),
    });
    expect(lived.entries.map(({ kind }) => kind)).toContain('light-due');
    expect(lived.measures.cues.map(({ outcome }) => outcome)).toEqual(['sounded', 'sounded', 'sounded']);
  });

  test('of a session from before cues were told of, nothing is said to be missing', () => {
    const { entries } = seeded({ cues: () => null });
    const [opening, ...rest] = entries;
    if (opening === undefined) throw new Error('no entries');
    expect(measuresOf(entries).cues.map(({ outcome }) => outcome)).toEqual([
      'missing',
      'missing',
      'missing',
      'missing',
    ]);
    const before: Entry = { ...opening, payload: { practice: false, settings: { profile: 'us' } } };
    expect(measuresOf([before, ...rest]).cues).toEqual([]);
  });
});

test('every prefix of a session has the state that replay gives it', () => {
  const { entries } = seeded({ secondEyeMs: -50_000 });
  for (let cut = 1; cut <= entries.length; cut += 1) {
    const session: Session = replay(entries.slice(0, cut));
    expect(measuresOf(entries.slice(0, cut)).state).toBe(stateOf(session.context));
  }
});
