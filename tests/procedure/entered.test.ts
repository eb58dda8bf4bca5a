import { describe, expect, test } from 'vitest';
import { checkById } from '../../core/procedure/checks.ts';
import type { Command } from '../../core/procedure/commands.ts';
import { pumpRunsMs } from '../../core/procedure/doses.ts';
import { eventOf, type Found } from '../../core/procedure/events.ts';
import { BUILT_IN } from '../../core/procedure/findings.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { recordAfter } from '../../core/procedure/record-after.ts';
import { contentOf, ruleOn, type Session, sessionAfter } from '../../core/procedure/session.ts';
import { troubleById } from '../../core/procedure/trouble.ts';
import {
  atOf,
  commandOf,
  give,
  infusing,
  missing,
  momentAt,
  NURSE,
  OPERATOR,
  opened,
  orderOf,
  planned,
  RIGHT,
  readyFor,
  ring,
  SECOND_NURSE,
  settingsFor,
  T0_AT_MS,
  waiting,
} from '../session-steps.ts';

const fromT0 = (seconds: number): number => T0_AT_MS + seconds * 1000;

/** A command as an entry of an earlier version has it: with no more found than is said here. */
function entered(session: Session, command: Command, atMs: number, by = NURSE, found: Found = {}): Session {
  const next = sessionAfter(session, eventOf(command, found, momentAt(atMs), by));
  if (next === null) throw new Error(`${command.kind} is not taken`);
  return next;
}

describe('an entry that does not say what was found', () => {
  test('of a second computation: the two have not agreed', () => {
    const session = entered(readyFor('second-check'), commandOf('second-check'), atOf('second-check'), SECOND_NURSE);
    expect(session.context).toMatchObject({ differed: 1, secondCheck: { agrees: false, differences: [] } });
    expect(missing(session, { kind: 'prepare', reconstitutedAgoS: 0 }, atOf('prepare'))).toHaveLength(1);
  });

  test('of the laser: it is not as planned', () => {
    const session = entered(waiting(), settingsFor(RIGHT), atOf('read-back:right'), OPERATOR);
    expect(session.context.readBacks.right).toMatchObject({ agrees: false, says: '' });
  });
});

test('an order that says neither regimen nor lesions, or one of them alone, is a fault and is entered nowhere', () => {
  const { regimen, lesions } = planned().context.order ?? {};
  for (const found of [{}, { regimen }, { lesions }]) {
    expect(() => entered(readyFor('order'), commandOf('order'), atOf('order'), NURSE, found)).toThrow(
      'an order is entered with its regimen and lesions',
    );
  }
});

test('no infusion begins without a plan, whoever asks for it', () => {
  const start = eventOf({ kind: 'start-pump' }, {}, momentAt(T0_AT_MS), NURSE);
  const without = 'no infusion begins without an order and a plan';
  expect(() => recordAfter(opened().context, start)).toThrow(without);
  expect(() => recordAfter(readyFor('measure').context, start)).toThrow(without);
  expect(() => recordAfter({ ...planned().context, order: null }, start)).toThrow(without);
  expect(() => pumpRunsMs(opened().context)).toThrow('no pump runs without a plan');
});

test('a record that has reached no state is a fault', () => {
  expect(() => stateOf({ ...opened().context, reached: [] })).toThrow('always reached a state');
});

describe('an override that holds nothing is no reason', () => {
  const empty: Command = { kind: 'begin-flush', override: undefined };

  test('where something is missing it goes on neither at the station nor in the machine', () => {
    expect(missing(infusing(), empty, fromT0(500))).toEqual(['the pump has not reached its end']);
    const event = eventOf(empty, {}, momentAt(fromT0(500)), NURSE);
    expect(sessionAfter(infusing(), event)).toBeNull();
  });

  test('where nothing is missing it changes nothing', () => {
    expect(give(infusing(), empty, fromT0(600)).context.deviations).toEqual([]);
    const late = entered(ring(infusing(), fromT0(600)), empty, fromT0(600), NURSE, { missing: ['the clock ran on'] });
    expect(late.context.deviations).toEqual([]);
  });
});

describe('a refusal', () => {
  const bare: Command = { ...orderOf([RIGHT], 'half-fluence'), offLabelReason: undefined };

  test('for what comes to no plan is firm, and nothing brings it about by itself', () => {
    const ruling = ruleOn(readyFor('order'), bare, momentAt(atOf('order')), NURSE);
    expect(ruling.taken ? [] : ruling.missing).toEqual([
      { text: expect.stringMatching(/is off label/), untilAtMs: null, firm: true },
    ]);
  });

  test('is never made of a fault of the program', () => {
    const broken = { ...BUILT_IN, regimens: null as never };
    expect(() => ruleOn(readyFor('order'), bare, momentAt(atOf('order')), NURSE, broken)).toThrow(TypeError);
  });

  test('of a name that no table has says the name', () => {
    expect(() => checkById('gloves' as never)).toThrow('there is no check "gloves"');
    expect(() => troubleById('flood' as never)).toThrow('there is no trouble card "flood"');
  });
});

test.each([
  ['rebase', { fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs: -5 }],
  ['slept', { sleptMs: 90_000, byWallMs: 90_000 }],
  ['cue-sounded', { cue: 'infusion-end', dueAtMs: 5, outcome: 'late', lateMs: 3 }],
  ['light-due', { dueAtMs: 5 }],
  ['exposure-due', { dueAtMs: 5, eye: 'left' }],
  ['hold', { reason: 'pain' }],
])('an entry of kind %s is read back as it was written, and with another field not at all', (kind, fields) => {
  expect(contentOf(kind, fields)).toEqual({ kind, ...fields });
  expect(() => contentOf(kind, { ...fields, colour: 'red' })).toThrow();
});
