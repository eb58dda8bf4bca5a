import { describe, expect, test } from 'vitest';
import type { Command, CommandOf } from '../../core/procedure/commands.ts';
import { missingFor } from '../../core/procedure/openings.ts';
import {
  ALL_NO,
  atOf,
  beamOn,
  commandOf,
  give,
  infusing,
  missing,
  momentAt,
  NURSE,
  ONE_EYE,
  OPERATOR,
  planned,
  play,
  readyFor,
  ring,
  stepOf,
  stepsBefore,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';

const reason = 'the physician decides so';
const withReason = (command: Command): Command => ({ ...command, override: { reason } }) as Command;

/** What a step says when one thing alone is left undone. */
const LEFT_OUT: [step: string, left: string, sentence: string][] = [
  ['prepare', 'identify', 'the patient is not identified by two identifiers'],
  ['prepare', 'consent', 'consent is not confirmed'],
  ['prepare', 'screen', 'the screening questions are not answered'],
  ['prepare', 'second-check', 'a second person has not computed the dose independently'],
  ['prime-line', 'drug', 'lot and expiry of the vial are not entered'],
  ['prime-line', 'inspected', 'the infusate is not inspected'],
  ['prime-line', 'd5w-only', 'dextrose 5 % as the only diluent is not confirmed'],
  ['prime-line', 'sound-heard', 'the sound check is not heard'],
  ['prime-line', 'time-out', 'the time-out is not done'],
  ['start-pump', 'line', 'what the line holds is not entered'],
  ['start-pump', 'filter', 'the in-line filter is not confirmed'],
  ['start-pump', 'blood-return', 'blood return is not seen'],
  ['start-pump', 'patency', 'patency of the vein is not confirmed'],
  ['beam-on:right', 'read-back:right', "right eye: the laser's settings are not read back"],
  ['beam-on:right', 'drops:right', 'right eye: anaesthetic drops are not in'],
  ['beam-on:right', 'lens-on:right', 'right eye: the contact lens is not on the eye'],
  ['beam-on:right', 'eye-time-out:right', 'right eye: the second time-out for this eye is not done'],
  ['beam-on:left', 'read-back:left', "left eye: the laser's settings are not read back"],
  ['beam-on:left', 'drops:left', 'left eye: anaesthetic drops are not in'],
  ['beam-on:left', 'lens-on:left', 'left eye: the contact lens is not on the eye'],
  ['beam-on:left', 'eye-time-out:left', 'left eye: the second time-out for this eye is not done'],
  ['end-light', 'beam-off:left', 'the beam is still on: switch it off first'],
  ['discharge', 'bracelet', 'the warning bracelet is not on'],
  ['discharge', 'sheet-given', 'the light-precaution sheet is not given'],
  ['discharge', 'reactions', 'reactions, or that there were none, are not entered'],
  ['discharge', 'review', 'the review date is not set'],
];

describe('with all done but one thing, a step waits for that one thing', () => {
  test.each(LEFT_OUT)('%s without %s: %s', (name, left, sentence) => {
    const { command, atMs, by } = stepOf(name, TWO_EYES);
    const session = ring(play(stepsBefore(name, TWO_EYES, [left])), atMs);
    expect(missing(session, command, atMs, by)).toEqual([sentence]);
  });

  test('prepare without an order says so, and that no dose follows', () => {
    const session = readyFor('prepare', ['order', 'second-check']);
    expect(missing(session, commandOf('prepare'), atOf('prepare'))).toEqual([
      'no regimen and eye are ordered by a named physician',
      'no dose is computed yet',
      'a second person has not computed the dose independently',
    ]);
  });

  test('prepare without height and weight says so, and that no dose follows', () => {
    const session = readyFor('prepare', ['measure', 'second-check']);
    expect(missing(session, commandOf('prepare'), atOf('prepare'))).toEqual([
      'height and weight are not entered',
      'no dose is computed yet',
      'a second person has not computed the dose independently',
    ]);
  });

  test.each([
    ['order', 'no regimen and eye are ordered by a named physician'],
    ['measured', 'height and weight are not entered'],
    ['plan', 'no dose is computed yet'],
  ])('prepare on a record whose %s alone is gone: %s', (gone, sentence) => {
    const at = momentAt(atOf('prepare'));
    const record = { ...planned().context, [gone]: null };
    expect(missingFor('prepare', record, { at, by: NURSE, command: null }).map((one) => one.text)).toEqual([sentence]);
  });
});

test.each(
  [
    ['prepare', 'prime-line', 'start-pump', 'begin-flush', 'end-flush', 'beam-on:right', 'beam-on:left', 'end-light'],
    ['discharge'],
  ].flat(),
)('with all done, %s is open', (name) => {
  const { command, atMs, by } = stepOf(name, TWO_EYES);
  expect(missing(readyFor(name, [], TWO_EYES), command, atMs, by)).toEqual([]);
});

describe('what planning waits for is firm', () => {
  test.each(LEFT_OUT.filter(([name]) => name === 'prepare'))('no reason gets %s round %s', (name, left, sentence) => {
    const session = readyFor(name, [left]);
    expect(missing(session, withReason(commandOf(name)), atOf(name))).toEqual([sentence]);
  });

  test('a screening answer that needs a decision is named, and only a named decision gets past it', () => {
    const asked = (decision?: CommandOf<'screen'>['decision']) => {
      const answers = { ...ALL_NO, porphyria: 'yes', 'hepatic-moderate': 'yes', photosensitisers: 'yes' } as const;
      const screen: Command = { kind: 'screen', answers, ...(decision && { decision }) };
      return give(planned(), screen, atOf('prepare') - 1000);
    };
    const says = [
      "a physician's named decision is needed: porphyria; moderate hepatic impairment, or biliary obstruction",
    ];
    expect(missing(asked(), commandOf('prepare'), atOf('prepare'))).toEqual(says);
    expect(missing(asked(), withReason(commandOf('prepare')), atOf('prepare'))).toEqual(says);
    const decided = asked({ physician: 'the ordering physician', reason: 'benefit weighed' });
    expect(missing(decided, commandOf('prepare'), atOf('prepare'))).toEqual([]);
  });

  test('the beam cannot be on twice, light cannot end under a beam, an eye not ordered gets none', () => {
    const atMs = T0_AT_MS + 15 * 60_000 + 10_000;
    const again = withReason({ kind: 'beam-on', eye: 'right' });
    expect(missing(beamOn(), again, atMs, OPERATOR)).toContain('the beam is on already');
    expect(missing(beamOn(), withReason({ kind: 'end-light' }), atMs, OPERATOR)).toContain(
      'the beam is still on: switch it off first',
    );
    const other = withReason({ kind: 'beam-on', eye: 'left' });
    expect(missing(readyFor('beam-on'), other, atMs, OPERATOR)).toContain(
      'the left eye is not ordered: enter what happened as a deviation',
    );
  });
});

describe('what later steps wait for may be passed with a reason, which then stands on record', () => {
  const soft = LEFT_OUT.filter(([name]) => name !== 'prepare' && name !== 'end-light');

  test.each(soft)('%s without %s', (name, left, sentence) => {
    const { command, atMs, by } = stepOf(name, TWO_EYES);
    const session = ring(play(stepsBefore(name, TWO_EYES, [left])), atMs);
    const { deviations } = give(session, withReason(command), atMs, by).context;
    const { continuousMs, wallMs, offsetMin } = momentAt(atMs);
    expect(deviations).toEqual([{ by, atMs: continuousMs, wallMs, offsetMin, words: sentence, reason }]);
  });

  test('all that is missing stands in one deviation', () => {
    const session = readyFor('start-pump', ['filter', 'patency']);
    const { deviations } = give(session, withReason({ kind: 'start-pump' }), atOf('start-pump')).context;
    expect(deviations.map(({ words }) => words)).toEqual([
      'the in-line filter is not confirmed; patency of the vein is not confirmed',
    ]);
  });

  test('a reason given where nothing is missing is no deviation', () => {
    const session = readyFor('start-pump');
    expect(give(session, withReason({ kind: 'start-pump' }), atOf('start-pump')).context.deviations).toEqual([]);
  });
});

describe('what only time brings', () => {
  const begins = T0_AT_MS + 600_000;

  test('the flush waits for the pump to reach its end, to the millisecond', () => {
    expect(missing(infusing(), { kind: 'begin-flush' }, begins - 1)).toEqual(['the pump has not reached its end']);
    expect(missing(infusing(), { kind: 'begin-flush' }, begins)).toEqual([]);
  });

  test('a held infusion has to be resumed before its flush', () => {
    const held = give(infusing(), { kind: 'hold', reason: 'pump' }, T0_AT_MS + 60_000);
    expect(missing(held, { kind: 'begin-flush' }, begins)).toEqual(['the infusion is held before its end: resume it']);
    const late = give(infusing(), { kind: 'hold', reason: 'pump' }, begins);
    expect(missing(late, { kind: 'begin-flush' }, begins + 1000)).toEqual([]);
  });

  test('the flush takes about a minute and 5 mL', () => {
    const flushing = give(infusing(), { kind: 'begin-flush' }, begins);
    const end = (flushMl: number, afterMs: number) =>
      missing(flushing, { kind: 'end-flush', flushMl }, begins + afterMs);
    expect(end(5, 44_999)).toEqual(['the flush is given over about 60 s']);
    expect(end(5, 45_000)).toEqual([]);
    expect(end(4.9, 60_000)).toEqual(['less than 5 mL was flushed: part of the dose may stay in the line']);
  });

  test('the beam waits for the light window, to the millisecond', () => {
    const opensAtMs = T0_AT_MS + 15 * 60_000;
    const session = play(stepsBefore('beam-on'));
    const beam: Command = { kind: 'beam-on', eye: 'right' };
    expect(missing(session, beam, opensAtMs - 1, OPERATOR)).toEqual(['the light window is not open']);
    expect(missing(session, beam, opensAtMs, OPERATOR)).toEqual([]);
  });

  test('the second eye is begun within 20 min, the last of them included', () => {
    const limitAtMs = T0_AT_MS + 20 * 60_000;
    const session = play(stepsBefore('beam-on:left', TWO_EYES));
    const beam: Command = { kind: 'beam-on', eye: 'left' };
    expect(missing(session, beam, limitAtMs, OPERATOR)).toEqual([]);
    expect(missing(session, beam, limitAtMs + 1, OPERATOR)).toEqual([
      'the last moment to begin the second eye is past',
    ]);
  });

  test('the second eye is the one begun second, also where the order of the eyes was changed', () => {
    const onAtMs = T0_AT_MS + 15 * 60_000;
    const ready = play(stepsBefore('beam-on:right', TWO_EYES));
    const first = give(ready, withReason({ kind: 'beam-on', eye: 'left' }), onAtMs, OPERATOR);
    const off = give(first, { kind: 'beam-off', endedByLaser: true }, onAtMs + 83_000, OPERATOR);
    expect(missing(off, { kind: 'beam-on', eye: 'right' }, T0_AT_MS + 20 * 60_000 + 1, OPERATOR)).toEqual([
      'the last moment to begin the second eye is past',
    ]);
  });

  test('a second eye that was begun in time may be finished after the limit', () => {
    const onAtMs = T0_AT_MS + 20 * 60_000;
    const begun = give(play(stepsBefore('beam-on:left', TWO_EYES)), { kind: 'beam-on', eye: 'left' }, onAtMs, OPERATOR);
    const off = give(begun, { kind: 'beam-off', endedByLaser: false }, onAtMs + 20_000, OPERATOR);
    expect(missing(off, { kind: 'beam-on', eye: 'left' }, onAtMs + 60_000, OPERATOR)).toEqual([]);
  });

  test('the first eye comes first, and has its whole light once', () => {
    const onAtMs = T0_AT_MS + 15 * 60_000;
    const ready = play(stepsBefore('beam-on:right', TWO_EYES));
    expect(missing(ready, { kind: 'beam-on', eye: 'left' }, onAtMs, OPERATOR)).toContain("it is the right eye's turn");
    const done = readyFor('beam-on:left', [], TWO_EYES);
    expect(missing(done, { kind: 'beam-on', eye: 'right' }, atOf('beam-on:left', TWO_EYES), OPERATOR)).toEqual([
      "it is the left eye's turn",
      'the right eye has had its whole light',
    ]);
  });

  test('light that was cut short is named with its seconds', () => {
    const onAtMs = T0_AT_MS + 15 * 60_000;
    const off = give(beamOn(TWO_EYES), { kind: 'beam-off', endedByLaser: false }, onAtMs + 40_000, OPERATOR);
    expect(missing(off, { kind: 'end-light' }, onAtMs + 50_000, OPERATOR)).toEqual([
      'right eye: 40 of 83 s of light given; left eye: 0 of 83 s of light given',
    ]);
  });

  test('drug is used within 4 h of reconstitution', () => {
    const expiresAtMs = atOf('prepare') - 300_000 + 4 * 3_600_000;
    const says = ['the drug was to be used by 14:00, 4 h after reconstitution: discard it'];
    for (const name of ['prime-line', 'start-pump']) {
      const session = readyFor(name);
      expect(missing(session, commandOf(name), expiresAtMs - 1)).toEqual([]);
      expect(missing(session, commandOf(name), expiresAtMs)).toEqual(says);
    }
  });

  test('a vial is good through the day it expires, by the local calendar', () => {
    const primed = (expires: string) =>
      give(readyFor('prime-line'), { kind: 'drug', lot: 'A1027', expires }, atOf('prime-line') - 1000);
    const prime = (expires: string) => missing(primed(expires), { kind: 'prime-line' }, atOf('prime-line'));
    expect(prime('2031-03-03')).toEqual([]);
    expect(prime('2031-03-02')).toEqual(['the vial expired on 2031-03-02']);
    const { context } = primed('2031-03-02');
    const evening = { ...momentAt(atOf('prime-line')), offsetMin: -600 };
    expect(missingFor('prime-line', context, { at: evening, by: NURSE, command: null })).toEqual([]);
  });
});

test('a check is for its state and its eye, once, and can be taken back once', () => {
  const atMs = atOf('beam-on') - 1000;
  const ready = readyFor('beam-on');
  const says = (command: Command) => missing(ready, command, atMs, OPERATOR);
  expect(says({ kind: 'check', item: 'drops', eye: 'right' })).toEqual(['that is confirmed already']);
  expect(says({ kind: 'check', item: 'drops', eye: 'left' })).toEqual(['say for which ordered eye']);
  expect(says({ kind: 'check', item: 'drops' })).toEqual(['say for which ordered eye']);
  expect(says({ kind: 'check', item: 'bracelet' })).toEqual([
    '"warning bracelet is on" is confirmed while after-care or stopped early',
  ]);
  expect(missing(readyFor('consent'), { kind: 'check', item: 'consent', eye: 'right' }, atOf('consent'))).toEqual([
    'this is not confirmed for each eye',
  ]);
  const back = give(ready, { kind: 'uncheck', item: 'drops', eye: 'right', reason: 'washed out' }, atMs, OPERATOR);
  expect(missing(back, { kind: 'beam-on', eye: 'right' }, atOf('beam-on'), OPERATOR)).toEqual([
    'right eye: anaesthetic drops are not in',
  ]);
  expect(missing(back, { kind: 'uncheck', item: 'drops', eye: 'right', reason: 'again' }, atMs + 1, OPERATOR)).toEqual([
    'that is not confirmed, so there is nothing to take back',
  ]);
});

test('steps of a course are given with all that they need', () => {
  expect(play(ONE_EYE).context.deviations).toEqual([]);
});
