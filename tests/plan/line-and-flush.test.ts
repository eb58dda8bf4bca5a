import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { replay } from '../../core/ledger/replay.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import type { Command, CommandOf } from '../../core/procedure/commands.ts';
import { dosesNow } from '../../core/procedure/doses.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { ruleOn, type Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  after,
  atOf,
  entriesOf,
  flushing,
  give,
  infusing,
  instead,
  missing,
  momentAt,
  NURSE,
  ONE_EYE,
  played,
  readyFor,
  ring,
  type Step,
  stepsBefore,
  stopped,
  T0_AT_MS,
  waiting,
} from '../session-steps.ts';

const atS = (seconds: number): number => T0_AT_MS + seconds * 1000;
const duesS = (session: Session) =>
  duesOf(session.context).map(({ kind, dueAtMs }) => [kind, (dueAtMs - T0_AT_MS) / 1000]);
const withLine = (line: Omit<CommandOf<'line'>, 'kind'>): Step[] => instead('line', { kind: 'line', ...line });
const DRUG = withLine({ lineMl: 1.5, primedWith: 'drug' });

/** 168 cm and 71.5 kg at the label dose: 5.5 mL drawn up, 11 mg in 30 mL, pumped at 3 mL/min. */
const ORDERED_MG = 11;

describe('a line of 1.5 mL', () => {
  test('primed with drug: the syringe is empty at 570 s, the light is due at 900 s all the same', () => {
    expect(duesS(infusing(DRUG))).toEqual(
      expect.arrayContaining([
        ['infusion-due', 570],
        ['light-due', 900],
      ]),
    );
    const begin: Command = { kind: 'begin-flush' };
    expect(missing(infusing(DRUG), begin, atS(569.9))).toEqual(['the pump has not reached its end']);
    expect(missing(infusing(DRUG), begin, atS(570))).toEqual([]);
  });

  test('primed with dextrose: the pump runs its 600 s, the light is due at 900 s', () => {
    const session = infusing(withLine({ lineMl: 1.5, primedWith: 'diluent' }));
    expect(duesS(session)).toEqual(
      expect.arrayContaining([
        ['infusion-due', 600],
        ['light-due', 900],
      ]),
    );
    expect(missing(session, { kind: 'begin-flush' }, atS(599.9))).toEqual(['the pump has not reached its end']);
  });

  test('primed with dextrose, gives nothing for the first 30 s', () => {
    const session = infusing(withLine({ lineMl: 1.5, primedWith: 'diluent' }));
    expect(dosesNow(session.context, atS(30))).toMatchObject({ inPatientMg: 0, inLineMg: 0.55 });
    expect(dosesNow(session.context, atS(60))?.inPatientMg).toBeCloseTo(0.55, 9);
  });

  test.each(['drug', 'diluent'] as const)(
    'primed with %s keeps 0.55 of 11 mg back when the pump ends',
    (primedWith) => {
      const session = infusing(withLine({ lineMl: 1.5, primedWith }));
      const doses = dosesNow(session.context, atS(600));
      expect(doses?.orderedMg).toBe(ORDERED_MG);
      expect(doses?.inPatientMg).toBeCloseTo(10.45, 9);
      expect(doses?.atPumpEndMg).toBeCloseTo(10.45, 9);
      expect(doses?.inLineMg).toBeCloseTo(0.55, 9);
      expect(doses?.inLineAtPumpEndMg).toBeCloseTo(0.55, 9);
      expect(doses?.inSyringeMg).toBeCloseTo(0, 9);
      expect(doses?.notDeliveredMg).toBeNull();
    },
  );

  test('is not known: it is taken to hold nothing, and that it was not known stands among the deviations', () => {
    const start: Command = { kind: 'start-pump', override: { reason: 'the set has no figure on it' } };
    const session = give(readyFor('start-pump', ['line']), start, T0_AT_MS);
    expect(duesS(session)).toContainEqual(['infusion-due', 600]);
    expect(session.context.deviations[0]?.words).toBe('what the line holds is not entered');
  });
});

describe('at every instant patient, line and syringe together hold the ordered dose', () => {
  const set = fc.record({
    lineMl: fc.double({ min: 0, max: 20, noNaN: true }),
    primedWith: fc.constantFrom('drug' as const, 'diluent' as const),
  });
  const seconds = fc.double({ min: 0, max: 2000, noNaN: true });

  test('while the pump runs, is held, and after it has ended', () => {
    fc.assert(
      fc.property(set, fc.double({ min: 1, max: 190, noNaN: true }), seconds, (line, holdS, s) => {
        const running = infusing(withLine(line));
        const held = give(running, { kind: 'hold', reason: 'pain' }, atS(holdS));
        const resumed = give(held, { kind: 'resume' }, atS(holdS + 45));
        for (const session of [running, held, resumed]) expectWhole(session, atS(s));
      }),
      { numRuns: 60 },
    );
  });

  test('while it is flushed, whatever was flushed, and after', () => {
    fc.assert(
      fc.property(set, fc.double({ min: 0, max: 50, noNaN: true }), seconds, (line, flushMl, s) => {
        const begun = flushing(withLine(line));
        const ended = give(begun, { kind: 'end-flush', flushMl, override: { reason: 'as it went' } }, atS(660));
        for (const session of [begun, ended]) expectWhole(session, atS(600 + s));
      }),
      { numRuns: 60 },
    );
  });

  test('where the pump was taken off early, and where all was stopped', () => {
    fc.assert(
      fc.property(set, fc.double({ min: 1, max: 400, noNaN: true }), (line, s) => {
        const early: Command = { kind: 'begin-flush', override: { reason: 'the physician says so' } };
        const begun = give(infusing(withLine(line)), early, atS(s));
        expectWhole(begun, atS(s + 100));
        expectWhole(give(begun, { kind: 'end-flush', flushMl: 5 }, atS(s + 60)), atS(s + 100));
        expectWhole(stopped(infusing(withLine(line)), atS(s)), atS(s + 100));
      }),
      { numRuns: 60 },
    );
  });

  test.each([
    ['drug', DRUG],
    ['dextrose', ONE_EYE],
  ])('and what the patient has had never goes down, with a line primed with %s', (_with, steps) => {
    let hadMg = 0;
    for (const step of steps.slice(steps.findIndex((one) => one.name === 'start-pump'))) {
      const doses = dosesNow(after(step.name, steps).context, step.atMs);
      expect(doses?.inPatientMg).toBeGreaterThanOrEqual(hadMg);
      hadMg = doses?.inPatientMg ?? 0;
    }
    expect(hadMg).toBeCloseTo(ORDERED_MG, 9);
  });

  function expectWhole(session: Session, atMs: number): void {
    const doses = dosesNow(session.context, atMs);
    if (doses === null) throw new Error('there are no doses');
    const { inPatientMg, inLineMg, inSyringeMg } = doses;
    expect(inPatientMg + inLineMg + inSyringeMg).toBeCloseTo(ORDERED_MG, 9);
    expect(Math.min(inPatientMg, inLineMg, inSyringeMg)).toBeGreaterThanOrEqual(-1e-9);
    expect(viewOf(session.context, 9, momentAt(atMs)).doses).toEqual(doses);
  }
});

describe('the flush', () => {
  const endMs = atOf('end-flush');
  const ended = (flushMl: number): Command => ({
    kind: 'end-flush',
    flushMl,
    override: { reason: 'the syringe slipped' },
  });
  function entryOf(command: Command) {
    const ruling = ruleOn(ring(flushing(DRUG), endMs), command, momentAt(endMs), NURSE);
    if (!ruling.taken) throw new Error('the end of the flush is refused');
    const { kind, ...fields } = command;
    return { ruling, words: wordsFor({ kind, payload: { ...fields, found: ruling.event.found } }) };
  }

  test('of 5 mL brings all of it to the patient', () => {
    const { ruling, words } = entryOf({ kind: 'end-flush', flushMl: 5 });
    expect(ruling.event.found.notDeliveredMg).toBe(0);
    expect(ruling.event.found.deliveredMg).toBeCloseTo(0.55, 9);
    expect(words).toBe('flush done, 5 mL');
    expect(dosesNow(waiting(DRUG).context, endMs)).toMatchObject({ notDeliveredMg: 0, inLineMg: 0 });
    expect(dosesNow(waiting(DRUG).context, endMs)?.inPatientMg).toBeCloseTo(ORDERED_MG, 9);
  });

  test('that is short waits for a reason, and its entry says what stayed in the line', () => {
    expect(missing(flushing(DRUG), { kind: 'end-flush', flushMl: 0.75 }, endMs)).toEqual([
      'less than 5 mL was flushed: part of the dose may stay in the line',
    ]);
    const { ruling, words } = entryOf(ended(0.75));
    expect(ruling.event.found.deliveredMg).toBeCloseTo(0.275, 9);
    expect(ruling.event.found.notDeliveredMg).toBeCloseTo(0.275, 9);
    expect(words).toMatch(/^flush done, 0\.75 mL: 0\.2[78] mg stayed in the line, although less than 5 mL/);
    const { deviations } = ruling.session.context;
    expect(deviations.at(-1)?.reason).toBe('the syringe slipped');
    const doses = dosesNow(ruling.session.context, endMs);
    expect(doses?.inPatientMg).toBeCloseTo(10.725, 9);
    expect(doses?.notDeliveredMg).toBeCloseTo(0.275, 9);
  });

  test('that was not given leaves all of the line behind, and its entry says so', () => {
    const { ruling, words } = entryOf(ended(0));
    expect(ruling.event.found).toMatchObject({ deliveredMg: 0 });
    expect(ruling.event.found.notDeliveredMg).toBeCloseTo(0.55, 9);
    expect(words).toMatch(/^flush done, 0 mL: 0\.55 mg stayed in the line/);
  });

  test('of a line that holds nothing has nothing to bring', () => {
    const session = flushing(withLine({ lineMl: 0, primedWith: 'drug' }));
    const ruling = ruleOn(ring(session, endMs), { kind: 'end-flush', flushMl: 5 }, momentAt(endMs), NURSE);
    expect(ruling.taken && ruling.event.found).toEqual({ deliveredMg: 0, notDeliveredMg: 0 });
  });
});

test('a session replayed from its entries has the doses that were seen then', () => {
  const { session, events } = played(stepsBefore('discharge', DRUG));
  const again = replay(entriesOf(events));
  const atMs = atOf('discharge');
  expect(dosesNow(again.context, atMs)).toEqual(dosesNow(session.context, atMs));
  expect(again.context.course?.flush).toMatchObject({ flushMl: 5, notDeliveredMg: 0 });
});
