import { describe, expect, test } from 'vitest';
import type { Command, CommandOf } from '../../core/procedure/commands.ts';
import type { Person } from '../../core/procedure/person.ts';
import type { Session } from '../../core/procedure/session.ts';
import { tasksOf } from '../../core/procedure/tasks.ts';
import {
  atOf,
  commandOf,
  courseOf,
  give,
  LEFT,
  missing,
  NURSE,
  planned,
  play,
  RIGHT,
  readyFor,
  SECOND_NURSE,
  stepsBefore,
} from '../session-steps.ts';

const FIRST: CommandOf<'second-check'> = {
  kind: 'second-check',
  heightCm: 168,
  weightKg: 71.5,
  regimenId: 'label',
  lesions: [RIGHT],
};
const beforeMs = atOf('prepare') - 10_000;
const prepareSays = (session: Session, command = commandOf('prepare')) => missing(session, command, atOf('prepare'));
const computed = (second: CommandOf<'second-check'>, session = readyFor('second-check')) =>
  give(session, second, beforeMs, SECOND_NURSE);

test('the two agree: drug may be made up, and the task says so', () => {
  const session = computed(FIRST);
  expect(prepareSays(session)).toEqual([]);
  expect(session.context.secondCheck).toMatchObject({ agrees: true, differences: [], by: SECOND_NURSE });
  const task = tasksOf(session.context, beforeMs).find((one) => one.id === 'second-check');
  expect(task).toMatchObject({ detail: 'agrees', trouble: null });
});

describe('it is for other hands', () => {
  const says = ['the second computation is for another person than the one who entered the first'];
  const enteredBy = (orderer: Person, measurer: Person) =>
    play(
      stepsBefore('second-check').map((step) =>
        step.name === 'order' ? { ...step, by: orderer } : step.name === 'measure' ? { ...step, by: measurer } : step,
      ),
    );
  const THIRD: Person = { initials: 'LB', role: 'physician' };

  test.each([
    ['both', SECOND_NURSE, SECOND_NURSE],
    ['the order', SECOND_NURSE, NURSE],
    ['height and weight', NURSE, SECOND_NURSE],
  ])('who entered %s is refused', (_what, orderer, measurer) => {
    expect(missing(enteredBy(orderer, measurer), FIRST, beforeMs, SECOND_NURSE)).toEqual(says);
  });

  test('the same initials are the same person in whatever role', () => {
    const session = enteredBy(NURSE, NURSE);
    expect(missing(session, FIRST, beforeMs, { ...NURSE, role: 'physician' })).toEqual(says);
  });

  test('somebody who entered neither is taken', () => {
    expect(missing(enteredBy(NURSE, SECOND_NURSE), FIRST, beforeMs, THIRD)).toEqual([]);
  });

  test('no reason gets round it', () => {
    const own = { ...FIRST, override: { reason: 'nobody else is here' } } as Command;
    expect(missing(enteredBy(NURSE, NURSE), own, beforeMs)).toEqual(says);
  });
});

describe('a difference is named and blocks', () => {
  test.each<[string, Partial<CommandOf<'second-check'>>, string]>([
    ['height', { heightCm: 169 }, 'height, cm: first 168, second 169'],
    ['weight', { weightKg: 72 }, 'weight, kg: first 71.5, second 72'],
    ['regimen', { regimenId: 'half-fluence' }, 'regimen: first Label: full dose, full fluence, second Half fluence'],
    ['eye', { lesions: [{ ...RIGHT, eye: 'left' }] }, 'eyes and lesions, µm: first right 2600, second left 2600'],
    ['lesion', { lesions: [{ ...RIGHT, gldUm: 2700 }] }, 'eyes and lesions, µm: first right 2600, second right 2700'],
    [
      'number of eyes',
      { lesions: [RIGHT, LEFT] },
      'eyes and lesions, µm: first right 2600, second right 2600, then left 1850',
    ],
  ])('of %s', (_what, other, words) => {
    const session = computed({ ...FIRST, ...other });
    const [says, ...more] = prepareSays(session);
    expect(more).toEqual([]);
    expect(says).toMatch(/^the two computations differ: /);
    expect(says).toContain(words);
    const reasoned: Command = { kind: 'prepare', reconstitutedAgoS: 300, override: { reason: 'near enough' } };
    expect(prepareSays(session, reasoned)).toEqual([says]);
    const task = tasksOf(session.context, beforeMs).find((one) => one.id === 'second-check');
    expect(task?.trouble).toContain(words);
  });

  test('of weight large enough to change the dose, the dose is named too', () => {
    const [says] = prepareSays(computed({ ...FIRST, weightKg: 81.5 }));
    expect(says).toMatch(/dose, mg: first 10\.9\d*, second 11\.7\d*; drug, mL: first 5\.5, second 5\.9$/);
  });

  test('of the order of the eyes', () => {
    const session = readyFor('second-check', [], courseOf([RIGHT, LEFT]));
    const [says] = prepareSays(computed({ ...FIRST, lesions: [LEFT, RIGHT] }, session));
    expect(says).toContain('eyes and lesions, µm: first right 2600, then left 1850, second left 1850, then right 2600');
  });

  test('until the second computation is made again and agrees', () => {
    const wrong = computed({ ...FIRST, weightKg: 81.5 });
    expect(prepareSays(computed(FIRST, wrong))).toEqual([]);
  });
});

test.each(['order', 'measure'])('entering %s anew withdraws an agreed second computation', (name) => {
  const again = give(planned(), commandOf(name), beforeMs);
  expect(again.context.plan).toEqual(planned().context.plan);
  expect(prepareSays(again)).toEqual(['a second person has not computed the dose independently']);
});

test('other entries of planning leave it standing', () => {
  const again = give(give(planned(), commandOf('screen'), beforeMs), commandOf('identify'), beforeMs);
  expect(prepareSays(again)).toEqual([]);
});

test('a second computation needs the first entries', () => {
  const second = commandOf('second-check');
  for (const left of ['order', 'measure']) {
    const session = readyFor('second-check', [left]);
    expect(missing(session, second, atOf('second-check'), SECOND_NURSE)).toEqual([
      'the first entries are not complete',
    ]);
  }
});

test('an order for a regimen that is not on offer is refused, before height and weight as well', () => {
  const order: Command = { kind: 'order', regimenId: 'homemade', lesions: [RIGHT], orderedBy: 'the physician' };
  for (const session of [readyFor('order'), planned()]) {
    expect(missing(session, order, atOf('prepare'))[0]).toMatch(/^No regimen is called "homemade"/);
  }
  expect(() => play(courseOf([RIGHT], 'homemade'))).toThrow(/homemade/);
});
