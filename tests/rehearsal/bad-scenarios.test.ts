import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { BadScenario, readScenario } from '../../electron/rehearsal/scenario.ts';
import { newFolder } from '../station/station-under-test.ts';
import { complaintOf, run } from './rehearsal.ts';

const by = { initials: 'MO', role: 'nurse' };
const open = { atS: 0, by, command: { kind: 'open-session' } };
const measure = { kind: 'measure', heightCm: 168, weightKg: 71.5 };
const order = {
  kind: 'order',
  regimenId: 'label',
  lesions: [{ eye: 'right', gldUm: 2600 }],
  orderedBy: 'the physician',
};

/** A scenario whose second command is as given. */
const second = (command: unknown, step: object = {}) => [open, { atS: 1, by, command, ...step }];

/** What is in the file, and what the complaint has to name. */
const BAD: [name: string, content: unknown, complaint: RegExp][] = [
  ['no list', {}, /expected array/],
  ['an empty list', [], /a scenario has at least one command/],
  ['an unknown kind', second({ kind: 'fly' }), /command 2, command\.kind: there is no command of that kind/],
  ['no kind', second({ words: 'calm' }), /command 2, command\.kind: there is no command of that kind/],
  ['no command', [open, { atS: 1, by }], /command 2, command: /],
  ['a command in words', second('resume'), /command 2, command: .*expected object/],
  ['a number in words', second({ ...measure, heightCm: '168' }), /command 2, command\.heightCm: .*expected number/],
  [
    'a number that cannot be',
    second({ ...measure, weightKg: 900 }),
    /command 2, command\.weightKg: weight is 10 to 350 kg/,
  ],
  ['a field that is missing', second({ kind: 'measure', heightCm: 168 }), /command 2, command\.weightKg: /],
  ['a field too many', second({ ...measure, doseMg: 3 }), /command 2, command: .*"doseMg"/],
  [
    'an eye that is none',
    second({ ...order, lesions: [{ eye: 'both', gldUm: 2600 }] }),
    /command 2, command\.lesions\.0: eye: /,
  ],
  [
    'a day that is none',
    second({ kind: 'review', reviewDate: '2031-02-30' }),
    /command\.reviewDate: that day is not in the calendar/,
  ],
  ['a time in words', second(measure, { atS: '1' }), /command 2, atS: .*expected number/],
  ['a time before the start', second(measure, { atS: -1 }), /command 2, atS: /],
  ['no time', [open, { by, command: measure }], /command 2, atS: /],
  [
    'initials that are none',
    second(measure, { by: { initials: 'mo', role: 'nurse' } }),
    /command 2, by\.initials: initials are/,
  ],
  ['a role that is none', second(measure, { by: { initials: 'MO', role: 'patient' } }), /command 2, by\.role: /],
  ['a word of its own', second(measure, { patient: 'K-2041' }), /command 2: .*"patient"/],
  [
    'commands out of order',
    [open, { atS: 9, by, command: measure }, { atS: 8, by, command: order }],
    /command 3 is given at 8 s, before the one above it at 9 s/,
  ],
  [
    'no session opened',
    [{ atS: 0, by, command: measure }],
    /command 1 is for session "first", which no "open-session" has opened/,
  ],
  [
    'a session of another name',
    second(measure, { session: 'other' }),
    /command 2 is for session "other", which no "open-session"/,
  ],
  ['a session opened twice', [open, open], /command 2 opens session "first" a second time/],
];

function fileOf(content: string): string {
  const file = join(newFolder(), 'scenario.json');
  writeFileSync(file, content);
  return file;
}

/** Runs a rehearsal that may not begin: nothing is written, in its data folder or in a temporary one. */
async function expectRefused(words: readonly string[], complaint: RegExp): Promise<void> {
  const [data, temporary] = [newFolder(), newFolder()];
  const withData = words.map((word) => (word === 'DATA' ? data : word));
  const ran = await run(withData, { TMPDIR: temporary });
  expect(ran.code).toBe(2);
  expect(complaintOf(ran)).toMatch(complaint);
  expect(ran.stderr).toMatch(/^rehearse: /);
  expect(readdirSync(data)).toStrictEqual([]);
  expect(readdirSync(temporary)).toStrictEqual([]);
}

describe('a scenario that cannot be used is refused with a complaint that names command and field', () => {
  test.each(BAD)('%s', (_name, content, complaint) => {
    const file = fileOf(JSON.stringify(content));
    expect(() => readScenario(file)).toThrow(BadScenario);
    expect(() => readScenario(file)).toThrow(complaint);
  });

  test('a good one is not', () => {
    expect(readScenario(fileOf(JSON.stringify(second(measure))))).toHaveLength(2);
  });
});

describe('a rehearsal of it ends with 2, one complaint in JSON, and nothing written', () => {
  const NAMED = ['an unknown kind', 'a number in words', 'commands out of order', 'no session opened'];
  const named = BAD.filter(([name]) => NAMED.includes(name));

  test.each(named)('%s', async (_name, content, complaint) => {
    await expectRefused(['--scenario', fileOf(JSON.stringify(content)), '--data', 'DATA'], complaint);
  });

  test('a file that is not JSON', async () => {
    await expectRefused(['--scenario', fileOf('[{"atS": 0,')], /scenario\.json cannot be read: /);
  });

  test('a file that is not there', async () => {
    await expectRefused(
      ['--scenario', join(newFolder(), 'none.json'), '--data', 'DATA'],
      /none\.json cannot be read: ENOENT/,
    );
  });

  test('a folder', async () => {
    await expectRefused(['--scenario', newFolder()], /cannot be read: EISDIR/);
  });
});

describe('words that cannot be understood end with 2 and say how it is used', () => {
  test.each([
    ['a speed in words', ['--speed', 'fast'], /--speed is how many times faster.*not "fast"/],
    ['no speed', ['--speed', '0', '--data', 'DATA'], /not "0"/],
    ['an empty speed', ['--speed='], /not ""/],
    ['a speed backwards', ['--speed=-5'], /not "-5"/],
    [
      'a flag it does not know',
      ['--turbo', '--data', 'DATA'],
      /Unknown option '--turbo'.*Use: npm run --silent rehearse/,
    ],
    ['a word without a flag', ['full-session.json'], /Unexpected argument 'full-session\.json'.*Use: /],
    ['a flag without its word', ['--scenario'], /--scenario.*Use: /s],
  ])('%s', async (_name, words, complaint) => {
    await expectRefused(words, complaint);
  });
});
