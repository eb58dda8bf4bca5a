import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { COMMAND_DUTIES, mayDo, whoseWork } from '../../core/people/duties.ts';
import {
  administersAll,
  type Roster,
  type RosterChange,
  RosterRefused,
  rosterAfter,
} from '../../core/people/roster.ts';
import { COMMAND_KINDS } from '../../core/procedure/commands.ts';
import { ROLES } from '../../core/procedure/person.ts';

const FIRST: Roster = rosterAfter([], joins('AD', { administers: true }), 'person-ad');

function joins(initials: string, more: Partial<Extract<RosterChange, { change: 'join' }>> = {}): RosterChange {
  return { change: 'join', name: `the one called ${initials}`, initials, role: 'nurse', administers: false, ...more };
}

describe('the roster', () => {
  test('takes somebody who joins, with an identity of their own', () => {
    const roster = rosterAfter(FIRST, joins('MO'), 'person-mo');
    expect(roster.map(({ initials, personId, active }) => [initials, personId, active])).toEqual([
      ['AD', 'person-ad', true],
      ['MO', 'person-mo', true],
    ]);
  });

  test('never has the same initials twice, not even those of somebody who has left: old entries are known by them', () => {
    const roster = rosterAfter(
      rosterAfter(FIRST, joins('MO'), 'person-mo'),
      { change: 'leave', personId: 'person-mo' },
      '',
    );
    expect(() => rosterAfter(roster, joins('MO'), 'person-2')).toThrow('who has left: choose others');
    expect(() => rosterAfter(roster, joins('AD'), 'person-2')).toThrow('the one called AD: choose others');
  });

  test('says so where somebody is not in it', () => {
    expect(() => rosterAfter(FIRST, { change: 'leave', personId: 'person-none' }, '')).toThrow('not in the roster');
  });

  test('whatever is changed in any order, somebody administers it, initials are unique, and nobody is removed', () => {
    const initials = fc.constantFrom('AD', 'MO', 'TK', 'LB');
    const change: fc.Arbitrary<RosterChange> = fc.oneof(
      fc
        .record({ initials, administers: fc.boolean(), role: fc.constantFrom(...ROLES) })
        .map((one) => joins(one.initials, one)),
      fc.record({
        change: fc.constantFrom('leave' as const, 'return' as const),
        personId: initials.map((one) => `person-${one.toLowerCase()}`),
      }),
      fc.record({
        change: fc.constant('describe' as const),
        personId: initials.map((one) => `person-${one.toLowerCase()}`),
        name: fc.constant('another name'),
        role: fc.constantFrom(...ROLES),
        administers: fc.boolean(),
      }),
    );
    fc.assert(
      fc.property(fc.array(change, { maxLength: 30 }), (changes) => {
        let roster = FIRST;
        for (const one of changes) {
          const before = roster;
          const newId = one.change === 'join' ? `person-${one.initials.toLowerCase()}` : '';
          try {
            roster = rosterAfter(roster, one, newId);
          } catch (error) {
            if (!(error instanceof RosterRefused)) throw error;
          }
          expect(roster.some((person) => person.active && administersAll(person))).toBe(true);
          expect(new Set(roster.map((person) => person.initials)).size).toBe(roster.length);
          for (const { personId, initials } of before)
            expect(roster).toContainEqual(expect.objectContaining({ personId, initials }));
        }
      }),
    );
  });
});

describe('who may do what', () => {
  test('says whose work it is, for every command and every role that may not', () => {
    for (const kind of [...COMMAND_KINDS, 'open-session'] as const) {
      for (const role of ROLES) {
        if (mayDo({ role, administers: false }, kind)) continue;
        for (const one of COMMAND_DUTIES[kind]) expect(whoseWork(kind)).toContain(one);
        expect(whoseWork(kind)).not.toContain(role);
      }
    }
  });

  test('whoever treats may always tell what happened, and end it', () => {
    for (const role of ['nurse', 'operator', 'physician'] as const)
      for (const kind of [
        'note',
        'deviation',
        'hold',
        'beam-off',
        'trouble',
        'trouble-told',
        'stop-early',
        'reactions',
      ] as const)
        expect(mayDo({ role, administers: false }, kind)).toBe(true);
  });

  test('an auditor reads and adds addenda, and gives no other command', () => {
    const auditor = { role: 'auditor', administers: false } as const;
    expect(COMMAND_KINDS.filter((kind) => mayDo(auditor, kind))).toEqual(['addendum']);
    expect(mayDo(auditor, 'read sessions')).toBe(true);
    expect(mayDo(auditor, 'administer')).toBe(false);
  });

  test('who administers and does nothing else sees no patient', () => {
    const administrator = { role: 'administrator', administers: true } as const;
    expect(mayDo(administrator, 'administer')).toBe(true);
    expect(mayDo(administrator, 'read sessions')).toBe(false);
    expect(mayDo(administrator, 'open-session')).toBe(false);
  });

  test('a nurse who administers stays a nurse', () => {
    const nurse = { role: 'nurse', administers: true } as const;
    expect(mayDo(nurse, 'administer')).toBe(true);
    expect(mayDo(nurse, 'start-pump')).toBe(true);
    expect(mayDo({ ...nurse, administers: false }, 'administer')).toBe(false);
  });
});
